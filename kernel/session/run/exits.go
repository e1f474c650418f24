package run

import (
	"errors"
	"flag"
	"log"
	"os"
)

// What would end the process ends the cell.

func exit(code int, via string) { panic(exitRequest{code, via}) }

// logger gives the three ways of a logger to end a program; with a receiver, the arguments come second.
func logger(name string, first int, of func(fp pointer, a []uintptr) *log.Logger) map[string]intrinsic {
	return map[string]intrinsic{
		name + "Fatal": func(fp pointer, a, _ []uintptr) {
			inPlace(fp, of(fp, a)).Print(*at[[]any](fp, a[first])...)
			exit(1, name+"Fatal")
		},
		name + "Fatalln": func(fp pointer, a, _ []uintptr) {
			inPlace(fp, of(fp, a)).Println(*at[[]any](fp, a[first])...)
			exit(1, name+"Fatalln")
		},
		name + "Fatalf": func(fp pointer, a, _ []uintptr) {
			args := *at[[]any](fp, a[first+1])
			inPlace(fp, of(fp, a)).Printf(askBoxes(*at[string](fp, a[first]), args), args...)
			exit(1, name+"Fatalf")
		},
	}
}

// parseFlags is FlagSet.Parse, where a set may have been told to end the program.
func parseFlags(set *flag.FlagSet, args []string) error {
	if set.ErrorHandling() != flag.ExitOnError {
		return set.Parse(args)
	}
	name := set.Name()
	set.Init(name, flag.ContinueOnError)
	err := set.Parse(args)
	set.Init(name, flag.ExitOnError)
	switch {
	case errors.Is(err, flag.ErrHelp):
		exit(0, "flag.Parse")
	case err != nil:
		exit(2, "flag.Parse")
	}
	return nil
}

func init() {
	add(map[string]intrinsic{
		"os.Exit":            func(fp pointer, a, _ []uintptr) { exit(*at[int](fp, a[0]), "os.Exit") },
		"runtime.Breakpoint": func(pointer, []uintptr, []uintptr) { exit(2, "runtime.Breakpoint") },
		"runtime.Goexit":     func(pointer, []uintptr, []uintptr) { panic(goexit{}) },
		"flag.Parse":         func(pointer, []uintptr, []uintptr) { parseFlags(flag.CommandLine, os.Args[1:]) },
		"(*flag.FlagSet).Parse": func(fp pointer, a, r []uintptr) {
			*at[error](fp, r[0]) = parseFlags(*at[*flag.FlagSet](fp, a[0]), *at[[]string](fp, a[1]))
		},
	})
	add(logger("log.", 0, func(pointer, []uintptr) *log.Logger { return log.Default() }))
	add(logger("(*log.Logger).", 1, func(fp pointer, a []uintptr) *log.Logger { return *at[*log.Logger](fp, a[0]) }))
}
