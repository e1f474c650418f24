package main

import (
	"fmt"
	"go/types"
	"slices"
	"strings"

	"golang.org/x/tools/go/types/typeutil"
)

// fastPackages are the packages of Go whose functions cells call in loops; the
// types of their functions get calls without reflection. All of our own do.
var fastPackages = []string{
	"bufio", "bytes", "container/heap", "container/list", "context", "encoding/binary",
	"encoding/csv", "encoding/hex", "encoding/json", "errors", "fmt", "hash/crc32", "hash/fnv",
	"io", "log", "math", "math/big", "math/bits", "math/cmplx", "math/rand", "math/rand/v2",
	"os", "path", "path/filepath", "regexp", "sort", "strconv", "strings", "sync",
	"sync/atomic", "text/tabwriter", "text/template", "time", "unicode", "unicode/utf8",
	sortingPath,
}

// fastTypes are the types of Go whose methods are held as functions. All
// exported types of our own are.
var fastTypes = []string{
	"bufio.ReadWriter", "bufio.Reader", "bufio.Scanner", "bufio.Writer",
	"bytes.Buffer", "bytes.Reader", "container/heap.Interface", "container/list.Element",
	"container/list.List", "container/ring.Ring", "context.Context",
	"encoding/binary.ByteOrder", "encoding/csv.Reader", "encoding/csv.Writer",
	"encoding/json.Decoder", "encoding/json.Encoder", "fmt.State", "fmt.Stringer",
	"hash.Hash", "hash.Hash32", "hash.Hash64",
	"io.ByteReader", "io.ByteWriter", "io.Closer", "io.Reader", "io.ReaderAt", "io.RuneReader",
	"io.Seeker", "io.StringWriter", "io.Writer", "io.WriterTo",
	"log.Logger", "math/big.Float", "math/big.Int", "math/big.Rat", "math/rand.Rand",
	"math/rand.Source", "math/rand.Zipf", "math/rand/v2.Rand", "math/rand/v2.Source",
	"math/rand/v2.PCG", "os.File", "reflect.Value", "reflect.Type", "regexp.Regexp",
	"sort.Float64Slice", "sort.IntSlice", "sort.Interface", "sort.StringSlice",
	"strings.Builder", "strings.Reader", "strings.Replacer",
	"sync.Cond", "sync.Locker", "sync.Map", "sync.Mutex", "sync.Once", "sync.Pool",
	"sync.RWMutex", "sync.WaitGroup",
	"sync/atomic.Bool", "sync/atomic.Int32", "sync/atomic.Int64", "sync/atomic.Uint32",
	"sync/atomic.Uint64", "sync/atomic.Value", "text/tabwriter.Writer",
	"text/template.Template", "time.Duration", "time.Location", "time.Month", "time.Ticker",
	"time.Time", "time.Timer", "time.Weekday",
}

// method is a method expression to hold, such as (*strings.Builder).WriteString.
type method struct {
	typeName, name, expression string
	signature                  *types.Signature // with the receiver as first parameter
}

func writeFastCalls(p *packages, out *output) error {
	if err := writeMethods(p, out); err != nil {
		return err
	}
	signatures, err := fastSignatures(p)
	if err != nil {
		return err
	}
	s := newSource(p)
	s.use("reflect")
	s.use("unsafe")
	shapes := map[string]shape{}
	for _, call := range []struct{ head, call string }{
		{"func FastCall(f p_reflect.Value) (func(args, results []p_unsafe.Pointer), bool)", "fast_%s(f)"},
		{"func BindCall(f p_reflect.Value, args, results []uintptr) (func(frame p_unsafe.Pointer), bool)", "bind_%s(f, args, results)"},
	} {
		s.printf("%s %s {\n\tswitch f := f.Interface().(type) {\n", callDocs[call.call[:4]], call.head)
		for _, sig := range signatures {
			shape := shapeOf(sig)
			shapes[shape.String()] = shape
			s.printf("\tcase %s:\n\t\treturn %s, true\n", s.signatureText(sig), fmt.Sprintf(call.call, shape))
		}
		s.printf("\t}\n\treturn nil, false\n}\n\n")
	}
	for _, name := range sortedKeys(shapes) {
		shapes[name].write(s)
	}
	file, err := s.file()
	if err != nil {
		return err
	}
	fmt.Printf("%d signatures of %d shapes called without reflection\n", len(signatures), len(shapes))
	out.add("kernel/symbols/generated_fastcalls.go", file)
	return nil
}

var callDocs = map[string]string{
	"fast": `// FastCall gives a function that calls f without reflection: args point to the
// arguments, results to where the results are to be put, none of them nil; a
// variadic argument is its slice. It is false for the types of functions that
// were not thought common.
`,
	"bind": `// BindCall is FastCall for arguments and results that lie at fixed places in a
// block of memory, so that nothing has to be gathered for a call.
`,
}

// fastSignatures lists the different types of all functions and methods that
// are to be fast.
func fastSignatures(p *packages) ([]*types.Signature, error) {
	var seen typeutil.Map
	var signatures []*types.Signature
	add := func(sig *types.Signature) {
		sig = types.NewSignatureType(nil, nil, nil, sig.Params(), sig.Results(), sig.Variadic())
		if seen.At(sig) != nil || !p.nameable(sig) || sig.Params().Len() > 9 {
			return
		}
		seen.Set(sig, true)
		signatures = append(signatures, sig)
	}
	for _, one := range p.all {
		if !one.own() && !slices.Contains(fastPackages, one.ImportPath) {
			continue
		}
		scope := one.types.Scope()
		for _, name := range scope.Names() {
			if function, ok := scope.Lookup(name).(*types.Func); ok && function.Exported() && !generic(function) {
				add(function.Signature())
			}
		}
	}
	methods, err := fastMethods(p)
	if err != nil {
		return nil, err
	}
	for _, path := range sortedKeys(methods) {
		for _, m := range methods[path] {
			add(m.signature)
		}
	}
	return signatures, nil
}

// fastMethods gives the method expressions to hold, by package.
func fastMethods(p *packages) (map[string][]method, error) {
	methods := map[string][]method{}
	found := 0
	for _, one := range p.all {
		scope := one.types.Scope()
		for _, name := range scope.Names() {
			object, ok := scope.Lookup(name).(*types.TypeName)
			if !ok || !object.Exported() || object.IsAlias() || generic(object) || onlyConstraint(object) {
				continue
			}
			if slices.Contains(fastTypes, one.ImportPath+"."+name) {
				found++
			} else if !one.own() {
				continue
			}
			if list := methodsOf(object); len(list) > 0 {
				methods[one.ImportPath] = append(methods[one.ImportPath], list...)
			}
		}
	}
	if found != len(fastTypes) {
		return nil, fmt.Errorf("%d of the %d types in fastTypes exist", found, len(fastTypes))
	}
	return methods, nil
}

func methodsOf(object *types.TypeName) []method {
	var methods []method
	value := types.NewMethodSet(object.Type())
	all := value
	if !types.IsInterface(object.Type()) {
		all = types.NewMethodSet(types.NewPointer(object.Type()))
	}
	path := object.Pkg().Path()
	for i := range all.Len() {
		name := all.At(i).Obj().Name()
		if !all.At(i).Obj().Exported() {
			continue
		}
		selection, format := all.At(i), "(*%s.%s).%s"
		receiver := types.Type(types.NewPointer(object.Type()))
		if direct := value.Lookup(nil, name); direct != nil {
			selection, format, receiver = direct, "%s.%s.%s", object.Type()
		}
		sig := selection.Obj().(*types.Func).Signature()
		parameters := []*types.Var{types.NewParam(0, nil, "", receiver)}
		for j := range sig.Params().Len() {
			parameters = append(parameters, sig.Params().At(j))
		}
		methods = append(methods, method{
			typeName:   object.Name(),
			name:       name,
			expression: fmt.Sprintf(format, alias(path), object.Name(), name),
			signature:  types.NewSignatureType(nil, nil, nil, types.NewTuple(parameters...), sig.Results(), sig.Variadic()),
		})
	}
	return methods
}

func writeMethods(p *packages, out *output) error {
	methods, err := fastMethods(p)
	if err != nil {
		return err
	}
	s := newSource(p)
	s.use("reflect")
	s.printf("func lookupMethod(path, name string) p_reflect.Value {\n\tswitch path {\n")
	for _, path := range sortedKeys(methods) {
		s.printf("\tcase %q:\n\t\treturn method_%s(name)\n", path, strings.TrimPrefix(alias(path), "p_"))
	}
	s.printf("\t}\n\treturn p_reflect.Value{}\n}\n")
	count := 0
	for _, path := range sortedKeys(methods) {
		s.printf("\nfunc method_%s(name string) p_reflect.Value {\n\tswitch name {\n", strings.TrimPrefix(alias(path), "p_"))
		s.use(path)
		for _, m := range methods[path] {
			s.printf("\tcase %q:\n\t\treturn p_reflect.ValueOf(%s)\n", m.typeName+"."+m.name, m.expression)
			count++
		}
		s.printf("\t}\n\treturn p_reflect.Value{}\n}\n")
	}
	file, err := s.file()
	if err != nil {
		return err
	}
	fmt.Printf("%d methods held as functions\n", count)
	out.add("kernel/symbols/generated_methods.go", file)
	return nil
}
