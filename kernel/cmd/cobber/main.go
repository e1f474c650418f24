// Command cobber runs notebooks whose cells are Go, by itself or as the kernel
// of Jupyter.
//
// It reads flags and calls the packages that do the work: notebook and page for
// a run without Jupyter, server for Jupyter, kernelspec to tell Jupyter of it.
package main

import "os"

func main() {
	os.Exit(doMain(os.Args[1:], os.Stdout, os.Stderr))
}
