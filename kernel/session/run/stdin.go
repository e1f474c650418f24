package run

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"reflect"
)

// What reads os.Stdin asks the user of the cell. The file itself cannot: who reads it waits in the
// system, and nobody learns of it. So the functions that read it by name, or are handed it to read
// from, read the run's input instead; they are those of fmt, the readers of bufio and io, and its own
// method Read where a cell calls it.

func init() {
	for name, do := range readers {
		intrinsics[name] = do
	}
}

var readers = map[string]intrinsic{
	"fmt.Scan": func(fp pointer, a, r []uintptr) {
		scanned(fp, r, func() (int, error) { return fmt.Fscan(input(fp), scanList(fp, a[0])...) })
	},
	"fmt.Scanln": func(fp pointer, a, r []uintptr) {
		scanned(fp, r, func() (int, error) { return fmt.Fscanln(input(fp), scanList(fp, a[0])...) })
	},
	"fmt.Scanf": func(fp pointer, a, r []uintptr) {
		scanned(fp, r, func() (int, error) { return fmt.Fscanf(input(fp), *at[string](fp, a[0]), scanList(fp, a[1])...) })
	},
	"fmt.Fscan": func(fp pointer, a, r []uintptr) {
		scanned(fp, r, func() (int, error) { return fmt.Fscan(readerAt(fp, a[0]), scanList(fp, a[1])...) })
	},
	"fmt.Fscanln": func(fp pointer, a, r []uintptr) {
		scanned(fp, r, func() (int, error) { return fmt.Fscanln(readerAt(fp, a[0]), scanList(fp, a[1])...) })
	},
	"fmt.Fscanf": func(fp pointer, a, r []uintptr) {
		scanned(fp, r, func() (int, error) {
			return fmt.Fscanf(readerAt(fp, a[0]), *at[string](fp, a[1]), scanList(fp, a[2])...)
		})
	},
	"bufio.NewReader": func(fp pointer, a, r []uintptr) {
		*at[*bufio.Reader](fp, r[0]) = bufio.NewReader(readerAt(fp, a[0]))
	},
	"bufio.NewReaderSize": func(fp pointer, a, r []uintptr) {
		*at[*bufio.Reader](fp, r[0]) = bufio.NewReaderSize(readerAt(fp, a[0]), *at[int](fp, a[1]))
	},
	"bufio.NewScanner": func(fp pointer, a, r []uintptr) {
		*at[*bufio.Scanner](fp, r[0]) = bufio.NewScanner(readerAt(fp, a[0]))
	},
	"(*os.File).Read": func(fp pointer, a, r []uintptr) {
		from := io.Reader(*at[*os.File](fp, a[0]))
		if from == io.Reader(os.Stdin) {
			from = input(fp)
		}
		scanned(fp, r, func() (int, error) { return from.Read(*at[[]byte](fp, a[1])) })
	},
	"io.ReadAll": func(fp pointer, a, r []uintptr) {
		*at[[]byte](fp, r[0]), *at[error](fp, r[1]) = io.ReadAll(readerAt(fp, a[0]))
	},
}

// scanned runs a scan and ends the cell if the wait for the user was interrupted.
func scanned(fp pointer, results []uintptr, scan func() (int, error)) {
	n, err := scan()
	if head(fp).g.run.stopped.Load() {
		panic(ErrInterrupted)
	}
	*at[int](fp, results[0]), *at[error](fp, results[1]) = n, err
}

// input is what the user of the cell types.
func input(fp pointer) io.Reader {
	if in := head(fp).g.run.Stdin; in != nil {
		return in
	}
	return os.Stdin
}

func readerAt(fp pointer, offset uintptr) io.Reader {
	r := *at[io.Reader](fp, offset)
	if file, ok := r.(*os.File); ok && file == os.Stdin {
		return input(fp)
	}
	return r
}

// scanList is what a scan fills: pointers to values of session types point to plain memory for it, and
// what has a method Scan is asked.
func scanList(fp pointer, offset uintptr) []any {
	args := []reflect.Value{reflect.ValueOf(*at[[]any](fp, offset))}
	probes["fmt"].adapt(args)
	unboxAll(args, false)
	list, _ := args[0].Interface().([]any)
	return list
}
