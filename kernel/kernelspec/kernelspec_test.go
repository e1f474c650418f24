package kernelspec

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

func install(t *testing.T) (Target, string) {
	t.Helper()
	target := Target{Kind: Prefix, Prefix: t.TempDir(), Executable: program(t)}
	dir, err := Install(target)
	if err != nil {
		t.Fatal(err)
	}
	return target, dir
}

// program makes a file that stands for the executable.
func program(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "cobber")
	if err := os.WriteFile(path, nil, 0o755); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestInstallAndRemove(t *testing.T) {
	target, dir := install(t)
	if want := filepath.Join(target.Prefix, "share", "jupyter", "kernels", "cobber"); dir != want {
		t.Errorf("installed in %s, want %s", dir, want)
	}
	text, err := os.ReadFile(filepath.Join(dir, "kernel.json"))
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	want := map[string]any{
		"argv": []any{target.Executable, "kernel", "{connection_file}"}, "display_name": "Cobber", "language": "go",
		"interrupt_mode": "message", "metadata": map[string]any{"debugger": false},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("kernel.json holds %v, want %v", got, want)
	}
	for _, name := range []string{"logo-svg.svg", "logo-32x32.png", "logo-64x64.png"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Install(target); err != nil {
		t.Errorf("installing again: %v", err)
	}
	if removed, err := Remove(target); err != nil || removed != dir {
		t.Errorf("removed %s, %v", removed, err)
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Errorf("the folder is still there: %v", err)
	}
	if _, err := Remove(target); err == nil || !strings.Contains(err.Error(), "none is installed") {
		t.Errorf("removing again: %v", err)
	}
}

func TestRemoveLeavesWhatIsNotOurs(t *testing.T) {
	target, dir := install(t)
	note := filepath.Join(dir, "note.txt")
	if err := os.WriteFile(note, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Remove(target); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(note); err != nil {
		t.Error(err)
	}
	other := []byte(`{"argv": ["other", "-f", "{connection_file}"], "language": "go"}`)
	if err := os.WriteFile(filepath.Join(dir, "kernel.json"), other, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Remove(target); err == nil || !strings.Contains(err.Error(), "another kernel") {
		t.Errorf("got %v", err)
	}
}

func TestInstallErrors(t *testing.T) {
	for _, test := range []struct {
		target Target
		want   string
	}{
		{Target{Kind: Prefix}, "no prefix is given"},
		{Target{Kind: Prefix, Prefix: t.TempDir(), Executable: "does-not-exist"}, "there is no program"},
		{Target{Kind: Prefix, Prefix: t.TempDir()}, "go run"}, // a test's program is in go's own folder too
	} {
		if _, err := Install(test.target); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%+v: error %v does not say %q", test.target, err, test.want)
		}
	}
}

func TestFind(t *testing.T) {
	first, firstDir := install(t)
	second, secondDir := install(t)
	if err := os.Remove(second.Executable); err != nil {
		t.Fatal(err)
	}
	t.Setenv("JUPYTER_PATH", strings.Join([]string{
		t.TempDir(), filepath.Join(first.Prefix, "share", "jupyter"), filepath.Join(second.Prefix, "share", "jupyter"),
	}, string(os.PathListSeparator)))
	found := Find()
	if len(found) < 2 || found[0].Dir != firstDir || found[1].Dir != secondDir {
		t.Fatalf("found %+v", found)
	}
	if found[0].Err != nil || found[0].Spec.Argv[0] != first.Executable {
		t.Errorf("the first is %+v", found[0])
	}
	if found[1].Err == nil || !strings.Contains(found[1].Err.Error(), second.Executable) {
		t.Errorf("a program that is gone: %v", found[1].Err)
	}
}

// The rules are those of jupyter_core's paths.py, 5.9.
func TestPlaces(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(name string) string {
			for i := 0; i+1 < len(pairs); i += 2 {
				if pairs[i] == name {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	tests := []struct {
		name   string
		system string
		env    func(string) string
		want   string
	}{
		{"told", "linux", env("HOME", "/h", "JUPYTER_DATA_DIR", "/data"), "/data"},
		{"linux", "linux", env("HOME", "/h"), "/h/.local/share/jupyter"},
		{"linux with a data folder", "linux", env("HOME", "/h", "XDG_DATA_HOME", "/x"), "/x/jupyter"},
		{"mac", "darwin", env("HOME", "/h"), "/h/Library/Jupyter"},
		{"mac by the platform's rules", "darwin", env("HOME", "/h", "JUPYTER_PLATFORM_DIRS", "1"), "/h/Library/Application Support/Jupyter"},
		{"windows", "windows", env("APPDATA", "/roaming"), "/roaming/jupyter"},
		{"nowhere", "linux", env(), ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := userDataDir(test.system, test.env)
			if filepath.ToSlash(got) != test.want || (err == nil) == (test.want == "") {
				t.Errorf("got %s, %v; want %s", got, err, test.want)
			}
		})
	}
	inner := Target{Kind: Environment}
	if got, err := inner.dataDir(env("VIRTUAL_ENV", "/v", "CONDA_PREFIX", "/c")); err != nil || filepath.ToSlash(got) != "/v/share/jupyter" {
		t.Errorf("in an environment: %s, %v", got, err)
	}
	if _, err := inner.dataDir(env()); err == nil || !strings.Contains(err.Error(), "VIRTUAL_ENV") {
		t.Errorf("without an environment: %v", err)
	}
	for _, test := range []struct {
		system string
		env    func(string) string
		want   []string
	}{
		{"linux", env("HOME", "/h", "CONDA_PREFIX", "/c", "JUPYTER_PATH", "/p"),
			[]string{"/p", "/c/share/jupyter", "/h/.local/share/jupyter", "/usr/local/share/jupyter", "/usr/share/jupyter"}},
		{"darwin", env("HOME", "/h", "VIRTUAL_ENV", "/v"),
			[]string{"/v/share/jupyter", "/h/Library/Jupyter", "/usr/local/share/jupyter", "/usr/share/jupyter"}},
		{"windows", env("APPDATA", "/roaming", "PROGRAMDATA", "/all"), []string{"/roaming/jupyter"}},
		{"windows", env("APPDATA", "/roaming", "PROGRAMDATA", "/all", "JUPYTER_USE_PROGRAMDATA", "1"), []string{"/roaming/jupyter", "/all/jupyter"}},
		{"windows", env("USERPROFILE", "/person", "JUPYTER_DATA_DIR", ""), []string{"/person/.jupyter/data"}},
	} {
		got := searchDirs(test.system, test.env)
		for i := range got {
			got[i] = filepath.ToSlash(got[i])
		}
		if !reflect.DeepEqual(got, test.want) {
			t.Errorf("search on %s: %v, want %v", test.system, got, test.want)
		}
	}
}

// What Jupyter would start as another kernel, or could not stop, is stale.
func TestStale(t *testing.T) {
	target, dir := install(t)
	data := filepath.Dir(filepath.Dir(dir))
	for _, test := range []struct {
		name, want string
		change     func(*Spec)
	}{
		{"as installed", "", func(*Spec) {}},
		{"other arguments", "not how a cobber is started", func(s *Spec) { s.Argv = []string{target.Executable, "-f", "{connection_file}"} }},
		{"interrupts by signal", `interrupt_mode is "signal"`, func(s *Spec) { s.InterruptMode = "signal" }},
		{"other language", `language is "python"`, func(s *Spec) { s.Language = "python" }},
		{"no program", "there is no program", func(s *Spec) { s.Argv[0] = filepath.Join(dir, "gone") }},
	} {
		t.Run(test.name, func(t *testing.T) {
			spec := New(target.Executable)
			test.change(&spec)
			if err := writeSpec(dir, spec); err != nil {
				t.Fatal(err)
			}
			found := FindIn([]string{t.TempDir(), data})
			if len(found) != 1 || found[0].Dir != dir {
				t.Fatalf("found %+v", found)
			}
			if err := found[0].Err; (err == nil) != (test.want == "") || err != nil && !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %v, want %q", err, test.want)
			}
			if _, err := Install(target); err != nil {
				t.Fatal(err)
			}
			if found := FindIn([]string{data}); len(found) != 1 || found[0].Err != nil {
				t.Errorf("installing did not mend it: %+v", found)
			}
		})
	}
}
