package symbols

import (
	"path"
	"reflect"
	"strings"

	"github.com/traefik/yaegi/stdlib"
)

// Lookup gives the compiled object of that name in the package at path: a
// function as a func value, a variable as an addressable value that is the
// variable itself, a type T as the typed nil pointer (*T)(nil). Constants and
// generic functions and types have no compiled object; constants are in the
// types that Import gives.
//
// What is made in the run of the generator stands before yaegi's tables: the
// latter were made for an earlier Go, and replace functions such as os.Exit by
// ones of another meaning.
func Lookup(path, name string) (reflect.Value, bool) {
	if value := lookupGenerated(path, name); value.IsValid() {
		return value, true
	}
	packageName, ok := nameOf(path)
	if !ok || strings.HasPrefix(name, "_") {
		return reflect.Value{}, false
	}
	value, ok := stdlib.Symbols[path+"/"+packageName][name]
	return value, ok
}

// Library gives the packages of cobber/stdlib that are there without an
// import: the name a cell writes, and the path.
func Library() map[string]string {
	library := make(map[string]string)
	for _, entry := range packageNames {
		if strings.HasPrefix(entry.path, libraryPrefix) {
			library[path.Base(entry.path)] = entry.path
		}
	}
	return library
}

const libraryPrefix = "cobber/stdlib/"
