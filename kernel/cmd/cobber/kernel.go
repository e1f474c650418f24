package main

import (
	"os"

	"cobber/kernel/server"
)

var kernelCommand = command{
	name:      "kernel",
	arguments: "FILE",
	summary:   "serve as the kernel of Jupyter",
	help: `
Jupyter starts this by itself; FILE is the connection file it wrote.`,
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
		Banner:         "cobber " + programVersion() + ": cells are Go " + goVersion() + ", a number takes a unit in back quotes: 36.5`t/h`",
	})
	if err != nil {
		return p.fail("%v", err)
	}
	return ok
}
