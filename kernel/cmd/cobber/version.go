package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
)

var versionCommand = command{
	name:    "version",
	summary: "say which cobber this is, and which Go its cells are",
	run: func(p *program, _ *settings, operands []string) int {
		if len(operands) > 0 {
			return p.misuse("version", fmt.Sprintf("%q is one argument too many", operands[0]))
		}
		fmt.Fprintf(p.stdout, "cobber %s, Go %s, %s/%s\n", programVersion(), goVersion(), runtime.GOOS, runtime.GOARCH)
		return ok
	},
}

// programVersion is the version that the Go command wrote into the program, or
// the commit it was built from.
func programVersion() string {
	info, found := debug.ReadBuildInfo()
	if !found {
		return "of unknown version"
	}
	if version := info.Main.Version; version != "" && version != "(devel)" {
		return strings.TrimPrefix(version, "v")
	}
	for _, setting := range info.Settings {
		if setting.Key == "vcs.revision" && len(setting.Value) >= 12 {
			return "0.0.0-" + setting.Value[:12]
		}
	}
	return "0.0.0"
}

func goVersion() string {
	version, _, _ := strings.Cut(strings.TrimPrefix(runtime.Version(), "go"), " ")
	return version
}

// languageInfo is what a notebook's metadata say of the language, as the
// kernel tells front ends.
func languageInfo() map[string]any {
	return map[string]any{
		"codemirror_mode": "go",
		"file_extension":  ".go",
		"mimetype":        "text/x-go",
		"name":            "go",
		"pygments_lexer":  "go",
		"version":         goVersion(),
	}
}
