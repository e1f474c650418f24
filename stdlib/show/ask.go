package show

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// ErrNobody is the error of a question where there is nobody to answer it: the
// notebook runs by itself, or its front end takes no input.
var ErrNobody = errors.New("there is nobody to ask: bind the value in the cell instead")

// Ask asks the user for a line of text and waits for it. The line comes without
// its end. A notebook that asks cannot be run by itself, so a value that is
// known is better bound in a cell.
//
// Errors: ErrNobody where the front end takes no input, at once; io.EOF where
// input ends; an error when the cell is interrupted.
func Ask(prompt string) (string, error) { return ask(prompt, false) }

// AskSecret is Ask for what others should not read, such as a password: a front
// end does not show what is typed, and the notebook does not keep it. In a
// program without a notebook it is shown, as Ask shows it.
func AskSecret(prompt string) (string, error) { return ask(prompt, true) }

func ask(prompt string, secret bool) (string, error) {
	sink := listening()
	if sink == nil {
		return readLine(os.Stdin, os.Stdout, prompt)
	}
	line, err := "", ErrNobody
	sink(Event{Kind: KindAsk, Text: prompt, Secret: secret, Answer: func(text string, e error) { line, err = text, e }})
	return line, err
}

// readLine reads byte by byte, so that what stands behind the line is left for
// whatever else reads.
func readLine(in io.Reader, out io.Writer, prompt string) (string, error) {
	fmt.Fprint(out, prompt)
	var line strings.Builder
	one := make([]byte, 1)
	for {
		n, err := in.Read(one)
		if n == 1 && one[0] == '\n' {
			return strings.TrimSuffix(line.String(), "\r"), nil
		}
		line.Write(one[:n])
		switch {
		case errors.Is(err, io.EOF) && line.Len() > 0:
			return line.String(), nil
		case err != nil:
			return "", err
		}
	}
}
