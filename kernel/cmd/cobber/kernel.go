package main

import (
	"os"
	"path/filepath"

	"cobber/kernel/server"
)

var kernelCommand = command{
	name:      "kernel",
	arguments: "FILE",
	summary:   "serve as the kernel of Jupyter",
	help: `
Jupyter starts this by itself; FILE is the connection file it wrote. The cells
that ran, without what they showed, are kept for later sessions in a file that
is yours alone, the newest megabyte of them: history.jsonl in the folder cobber
of your configuration. COBBER_HISTORY in the environment names another file,
and COBBER_HISTORY=off keeps none.`,
	run: (*program).serve,
}

func (p *program) serve(_ *settings, files []string) int {
	if len(files) != 1 {
		return p.misuse("kernel", "one connection file is wanted")
	}
	if _, err := os.Stat(files[0]); err != nil {
		return p.fail("%v", plain(err))
	}
	session, err := p.newSession()
	if err != nil {
		return p.fail("%v", err)
	}
	defer session.Close()
	err = server.Serve(files[0], session, server.About{
		Implementation: "cobber",
		Version:        programVersion(),
		GoVersion:      goVersion(),
		History:        historyFile(),
		Banner:         "cobber " + programVersion() + ": cells are Go " + goVersion() + ", a number takes a unit in back quotes: 36.5`t/h`",
	})
	if err != nil {
		return p.fail("%v", err)
	}
	return ok
}

// historyFile is where past cells are kept; nowhere if that is the user's wish or
// there is no place.
func historyFile() string {
	switch named := os.Getenv("COBBER_HISTORY"); named {
	case "off":
		return ""
	case "":
		folder, err := os.UserConfigDir()
		if err != nil {
			return ""
		}
		return filepath.Join(folder, "cobber", "history.jsonl")
	default:
		return named
	}
}
