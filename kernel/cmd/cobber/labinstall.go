package main

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
)

// labRequirements pins JupyterLab and all that it needs.
//
//go:embed jupyterlab.txt
var labRequirements string

const (
	labPrefix = "jupyterlab-"     // of the folders in the cache
	labWhole  = "installed-whole" // a file that is there when all of it is
)

// findLab gives the program that is JupyterLab 4 or newer, installing it if
// need be.
func (p *program) findLab(private bool) (string, error) {
	if !private {
		if found, err := exec.LookPath("jupyter-lab"); err == nil {
			version, major := labVersion(found)
			if major >= 4 {
				return found, nil
			}
			fmt.Fprintf(p.stderr, "cobber: %s is JupyterLab %s, and 4 or newer is wanted\n", found, version)
		}
	}
	folder, err := labFolder()
	if err != nil {
		return "", err
	}
	program := inEnvironment(folder, "jupyter-lab")
	if _, err := os.Stat(filepath.Join(folder, labWhole)); err == nil {
		return program, nil
	}
	if err := p.installLab(folder); err != nil {
		return "", fmt.Errorf("JupyterLab could not be installed: %w", err)
	}
	return program, nil
}

// labVersion asks a JupyterLab what it is; 0 if it does not say.
func labVersion(program string) (version string, major int) {
	text, err := exec.Command(program, "--version").Output()
	version = strings.TrimSpace(string(text))
	if err != nil || version == "" {
		return "of unknown version", 0
	}
	first, _, _ := strings.Cut(version, ".")
	major, _ = strconv.Atoi(first)
	return version, major
}

// labFolder is where the private JupyterLab lies. Other requirements are
// another folder, so that a new cobber does not run on an old one's.
func labFolder() (string, error) {
	cache, err := cobberCache()
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256([]byte(labRequirements))
	return filepath.Join(cache, labPrefix+hex.EncodeToString(sum[:6])), nil
}

func cobberCache() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("there is no cache folder: %w", err)
	}
	return filepath.Join(cache, "cobber"), nil
}

// inEnvironment is a program of an environment of Python.
func inEnvironment(folder, name string) string {
	if runtime.GOOS == "windows" {
		return filepath.Join(folder, "Scripts", name+".exe")
	}
	return filepath.Join(folder, "bin", name)
}

// installLab makes the environment in its place, since programs of an
// environment know the place they were made in. One that was cut short is made
// anew.
func (p *program) installLab(folder string) error {
	python, err := findPython()
	if err != nil {
		return err
	}
	fmt.Fprintf(p.stderr, "cobber: JupyterLab is installed, once, into\n  %s\nfrom the Python package index (about 250 MB). \"cobber lab -remove\" takes it away.\n", folder)
	if err := os.RemoveAll(folder); err != nil {
		return err
	}
	if err := p.makeLab(python, folder); err != nil {
		os.RemoveAll(folder)
		return err
	}
	return nil
}

func (p *program) makeLab(python, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	list := filepath.Join(folder, "requirements.txt")
	if err := os.WriteFile(list, []byte(labRequirements), 0o644); err != nil {
		return err
	}
	for _, command := range [][]string{
		{python, "-m", "venv", folder},
		{inEnvironment(folder, "python"), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r", list},
	} {
		step := exec.Command(command[0], command[1:]...)
		if report, err := step.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w\n%s", strings.Join(command, " "), err, strings.TrimSpace(string(report)))
		}
	}
	return os.WriteFile(filepath.Join(folder, labWhole), nil, 0o644)
}

func findPython() (string, error) {
	for _, name := range []string{"python3", "python"} {
		if found, err := exec.LookPath(name); err == nil {
			return found, nil
		}
	}
	return "", errors.New("Python is not on the PATH: install Python 3.10 or newer, or JupyterLab itself")
}

// removeLab takes away every JupyterLab that cobber installed, of this version
// and of earlier ones.
func (p *program) removeLab() int {
	cache, err := cobberCache()
	if err != nil {
		return p.fail("%v", err)
	}
	folders, err := filepath.Glob(filepath.Join(cache, labPrefix+"*"))
	if err != nil {
		return p.fail("%v", err)
	}
	if len(folders) == 0 {
		fmt.Fprintf(p.stdout, "there is no JupyterLab in %s\n", cache)
	}
	for _, folder := range folders {
		if err := os.RemoveAll(folder); err != nil {
			return p.fail("%v", plain(err))
		}
		fmt.Fprintln(p.stdout, "removed", folder)
	}
	return ok
}
