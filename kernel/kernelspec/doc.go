// Package kernelspec tells Jupyter where the program is: it writes the kernel
// specification, a folder with kernel.json and our logo, where Jupyter looks,
// finds it again and removes it.
//
// It never starts a kernel and never touches a folder of another kernel.
//
// A Target goes in, the folder comes out. Read Install first. The rules of
// where Jupyter looks are those of the documentation of jupyter_core and
// jupyter_client.
package kernelspec

//go:generate go run ./generate
