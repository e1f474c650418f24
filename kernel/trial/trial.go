package trial

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"cobber/kernel/wire"
)

// Step is one thing that was tried.
type Step struct {
	Name string
	Took time.Duration
	Err  error // nil if it went well
}

// patience is how long a step may take before it has failed.
const patience = 15 * time.Second

// Run tries the kernel that a command line starts, with {connection_file} in
// the place of the file. It ends at the first step that fails.
func Run(ctx context.Context, argv []string) []Step {
	t := &trial{argv: argv}
	defer t.end()
	var steps []Step
	for _, step := range []struct {
		name string
		do   func(context.Context) error
	}{
		{"start", t.start},
		{"1 + 1", func(ctx context.Context) error { return t.gives(ctx, "1 + 1", "2") }},
		{"interrupt a loop without end", t.interrupt},
		{"go on after it", func(ctx context.Context) error { return t.gives(ctx, "2 * 3", "6") }},
		{"stop", t.stop},
	} {
		limited, cancel := context.WithTimeout(ctx, patience)
		began := time.Now()
		err := step.do(limited)
		cancel()
		if err == context.DeadlineExceeded { // alone: with words around it, they say more
			err = fmt.Errorf("it took more than %v", patience)
		}
		if err != nil && t.exited() {
			err = fmt.Errorf("the process has ended by itself: %s", t.lastWords())
		}
		steps = append(steps, Step{step.name, time.Since(began), err})
		if err != nil {
			break
		}
	}
	return steps
}

type trial struct {
	argv    []string
	folder  string
	process *exec.Cmd
	said    bytes.Buffer // read only after the process has ended
	ended   chan struct{}
	client  *wire.Client
}

// start is over when the kernel has answered and is heard.
func (t *trial) start(ctx context.Context) error {
	connection, err := wire.FreeConnection()
	if err != nil {
		return err
	}
	if t.folder, err = os.MkdirTemp("", "cobber-trial-"); err != nil {
		return err
	}
	file := filepath.Join(t.folder, "connection.json")
	text, err := json.Marshal(connection)
	if err != nil {
		return err
	}
	if err := os.WriteFile(file, text, 0o600); err != nil {
		return err
	}
	arguments := make([]string, len(t.argv))
	for i, argument := range t.argv {
		arguments[i] = strings.ReplaceAll(argument, "{connection_file}", file)
	}
	t.process = exec.Command(arguments[0], arguments[1:]...)
	t.process.Dir = t.folder
	t.process.Env = append(os.Environ(), "COBBER_HISTORY=off") // a trial is nothing to remember
	t.process.Stdout, t.process.Stderr = &t.said, &t.said
	if err := t.process.Start(); err != nil {
		t.process = nil
		return err
	}
	t.ended = make(chan struct{})
	go func() {
		t.process.Wait()
		close(t.ended)
	}()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() {
		select {
		case <-t.ended: // nobody will listen
			cancel()
		case <-ctx.Done():
		}
	}()
	if t.client, err = wire.Dial(ctx, connection); err != nil {
		return err
	}
	return t.greet(ctx)
}

// greet asks until an answer is heard whole: what is broadcast before the
// subscription has reached the kernel is lost.
func (t *trial) greet(ctx context.Context) error {
	for {
		brief, cancel := context.WithTimeout(ctx, 300*time.Millisecond)
		_, err := t.ask(brief, "kernel_info_request", struct{}{}, false)
		cancel()
		if err == nil || ctx.Err() != nil || !errors.Is(err, context.DeadlineExceeded) {
			return err
		}
	}
}

// ask sends a request and waits for its reply and its idle.
func (t *trial) ask(ctx context.Context, msgType string, content any, byControl bool) ([]*wire.Message, error) {
	id, err := t.client.Request(msgType, content, byControl)
	if err != nil {
		return nil, err
	}
	return t.await(ctx, id, func(m *wire.Message) bool { return false })
}

// await gathers what belongs to a request until it is done, or enough says so.
func (t *trial) await(ctx context.Context, id string, enough func(*wire.Message) bool) ([]*wire.Message, error) {
	var got []*wire.Message
	idle, replied := false, false
	for {
		select {
		case <-ctx.Done():
			return got, ctx.Err()
		case <-t.ended:
			return got, errors.New("the process has ended")
		case m := <-t.client.Received():
			if m.ParentID() != id {
				continue
			}
			got = append(got, m)
			idle = idle || m.Header.MsgType == "status" && bytes.Contains(m.Content, []byte(`"idle"`))
			replied = replied || strings.HasSuffix(m.Header.MsgType, "_reply")
			if idle && replied || enough(m) {
				return got, nil
			}
		}
	}
}

func cell(code string) map[string]any {
	return map[string]any{"code": code, "silent": false, "store_history": true, "allow_stdin": false}
}

// gives runs a cell and holds its result to what it must be.
func (t *trial) gives(ctx context.Context, code, want string) error {
	messages, err := t.ask(ctx, "execute_request", cell(code), false)
	if err != nil {
		return err
	}
	for _, m := range messages {
		var content struct {
			Data map[string]any `json:"data"`
		}
		if m.Header.MsgType != "execute_result" || json.Unmarshal(m.Content, &content) != nil {
			continue
		}
		if got := content.Data["text/plain"]; got != want {
			return fmt.Errorf("it gave %v", got)
		}
		return nil
	}
	return errors.New("it gave no result")
}

func (t *trial) interrupt(ctx context.Context) error {
	id, err := t.client.Request("execute_request", cell("println(\"looping\")\nfor {\n}"), false)
	if err != nil {
		return err
	}
	isRunning := func(m *wire.Message) bool { return m.Header.MsgType == "stream" }
	if _, err := t.await(ctx, id, isRunning); err != nil {
		return err
	}
	if _, err := t.client.Request("interrupt_request", struct{}{}, true); err != nil {
		return err
	}
	messages, err := t.await(ctx, id, func(*wire.Message) bool { return false })
	if err != nil {
		return err
	}
	for _, m := range messages {
		if m.Header.MsgType == "error" {
			return nil
		}
	}
	return errors.New("the cell ended without an error")
}

func (t *trial) stop(ctx context.Context) error {
	if _, err := t.client.Request("shutdown_request", map[string]bool{"restart": false}, true); err != nil {
		return err
	}
	select {
	case <-t.ended:
	case <-ctx.Done():
		return ctx.Err()
	}
	if state := t.process.ProcessState; !state.Success() {
		return fmt.Errorf("the process ended with %v: %s", state, t.lastWords())
	}
	return nil
}

func (t *trial) exited() bool {
	if t.ended == nil {
		return false
	}
	select {
	case <-t.ended:
		return true
	default:
		return false
	}
}

func (t *trial) lastWords() string {
	lines := strings.Split(strings.TrimSpace(t.said.String()), "\n")
	if len(lines) == 1 && lines[0] == "" {
		return "it said nothing"
	}
	return strings.Join(lines[max(0, len(lines)-5):], "\n")
}

// end leaves nothing behind.
func (t *trial) end() {
	if t.client != nil {
		t.client.Close()
	}
	if t.process != nil && !t.exited() {
		t.process.Process.Kill()
		<-t.ended
	}
	if t.folder != "" {
		os.RemoveAll(t.folder)
	}
}
