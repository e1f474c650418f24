package trial

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// What does not behave as a kernel must be said, and must not be left running.
// A cobber that works is tried in package kerneltest, which builds one.
func TestKernelsThatFail(t *testing.T) {
	if _, err := exec.LookPath("sh"); err != nil {
		t.Skip("there is no sh to stand for a kernel")
	}
	for _, test := range []struct {
		name, script, want string
		limit              time.Duration
	}{
		{"ends at once", "echo no such library >&2; exit 3", "the process has ended by itself: no such library", patience},
		{"ends without a word", "exit 0", "it said nothing", patience},
		{"never listens", "exec sleep 100", "nobody listens", 300 * time.Millisecond},
	} {
		t.Run(test.name, func(t *testing.T) {
			ctx, cancel := context.WithTimeout(t.Context(), test.limit)
			defer cancel()
			pids := t.TempDir() + "/pid"
			steps := Run(ctx, []string{"sh", "-c", "echo $$ > " + pids + "; " + test.script, "{connection_file}"})
			if len(steps) != 1 || steps[0].Err == nil || !strings.Contains(steps[0].Err.Error(), test.want) {
				t.Fatalf("got %+v, want an error with %q", steps, test.want)
			}
			pid, err := os.ReadFile(pids)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := os.Stat("/proc/" + strings.TrimSpace(string(pid))); err == nil {
				t.Error("the process is still there")
			}
		})
	}
	if steps := Run(t.Context(), []string{"/no/such/program"}); len(steps) != 1 || steps[0].Err == nil {
		t.Errorf("a program that is not there: %+v", steps)
	}
}
