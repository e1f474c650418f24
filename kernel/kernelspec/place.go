package kernelspec

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
)

// Name is the name of the kernel's folder, by which Jupyter calls it.
const Name = "cobber"

// Kind is for whom the kernel is installed.
type Kind int

// The kinds of targets.
const (
	User        Kind = iota // for the user who runs the program
	Prefix                  // under a prefix such as /usr/local
	Environment             // in the active environment of Python or Conda
)

// Target is a place that Jupyter looks in. The zero Target is the user's.
type Target struct {
	Kind   Kind
	Prefix string // for the kind Prefix only
	// Executable is the program that Jupyter is to start. Empty means this one.
	Executable string
}

// Dir gives the folder of the target's kernel specification.
func (t Target) Dir() (string, error) {
	data, err := t.dataDir(os.Getenv)
	if err != nil {
		return "", err
	}
	return filepath.Abs(filepath.Join(data, "kernels", Name))
}

func (t Target) dataDir(env func(string) string) (string, error) {
	switch t.Kind {
	case User:
		return userDataDir(runtime.GOOS, env)
	case Prefix:
		if t.Prefix == "" {
			return "", errors.New("no prefix is given: name the folder that share/jupyter lies in, such as /usr/local")
		}
		return filepath.Join(t.Prefix, "share", "jupyter"), nil
	case Environment:
		active := activeEnvironments(env)
		if len(active) == 0 {
			return "", errors.New("no environment is active: neither VIRTUAL_ENV nor CONDA_PREFIX is set; activate one, or install for the user")
		}
		return filepath.Join(active[0], "share", "jupyter"), nil
	}
	return "", fmt.Errorf("unknown kind of target %d", t.Kind)
}

// activeEnvironments gives the prefixes of the active environments, the inner
// one first: one of Python is usually made within one of Conda.
func activeEnvironments(env func(string) string) []string {
	var active []string
	for _, name := range []string{"VIRTUAL_ENV", "CONDA_PREFIX"} {
		if prefix := env(name); prefix != "" {
			active = append(active, prefix)
		}
	}
	return active
}

// userDataDir is the folder for a user's data of Jupyter, by the rules of
// jupyter_core's paths.
func userDataDir(system string, env func(string) string) (string, error) {
	if dir := env("JUPYTER_DATA_DIR"); dir != "" {
		return dir, nil
	}
	home := env("HOME")
	switch system {
	case "windows":
		if roaming := env("APPDATA"); roaming != "" {
			return filepath.Join(roaming, "jupyter"), nil
		}
		home = env("USERPROFILE")
		if home != "" {
			return filepath.Join(home, ".jupyter", "data"), nil
		}
	case "darwin", "ios":
		if home != "" && truthy(env("JUPYTER_PLATFORM_DIRS")) {
			return filepath.Join(home, "Library", "Application Support", "Jupyter"), nil
		}
		if home != "" {
			return filepath.Join(home, "Library", "Jupyter"), nil
		}
	default:
		if data := env("XDG_DATA_HOME"); data != "" {
			return filepath.Join(data, "jupyter"), nil
		}
		if home != "" {
			return filepath.Join(home, ".local", "share", "jupyter"), nil
		}
	}
	return "", errors.New("the home folder is not known: set JUPYTER_DATA_DIR to the folder for your data of Jupyter")
}

func truthy(value string) bool {
	return !slices.Contains([]string{"", "0", "no", "n", "false", "off"}, value)
}

// searchDirs gives the folders in which Jupyter looks for data, in its order.
// That of the Python which runs Jupyter is not known here, unless its
// environment is active.
func searchDirs(system string, env func(string) string) []string {
	dirs := filepath.SplitList(env("JUPYTER_PATH"))
	var inner []string
	for _, prefix := range activeEnvironments(env) {
		inner = append(inner, filepath.Join(prefix, "share", "jupyter"))
	}
	dirs = append(dirs, inner...)
	if user, err := userDataDir(system, env); err == nil {
		dirs = append(dirs, user)
	}
	if system == "windows" {
		if data := env("PROGRAMDATA"); data != "" && truthy(env("JUPYTER_USE_PROGRAMDATA")) {
			dirs = append(dirs, filepath.Join(data, "jupyter"))
		}
		return dirs
	}
	return append(dirs, "/usr/local/share/jupyter", "/usr/share/jupyter")
}
