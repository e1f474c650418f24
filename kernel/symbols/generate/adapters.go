package main

import (
	"fmt"
	"go/types"
	"slices"
	"strings"

	"cobber/kernel/symbols/signature"
)

// combined are the sets of interfaces that Go's packages ask for together:
// given one of a set, they look by assertion whether the value has the others.
var combined = [][]string{
	{"io.Reader", "io.WriterTo"},
	{"io.Reader", "io.ByteReader"},
	{"io.Reader", "io.ByteScanner"},
	{"io.Reader", "io.RuneReader"},
	{"io.Reader", "io.RuneScanner"},
	{"io.Reader", "io.ByteScanner", "io.RuneScanner"},
	{"io.Reader", "io.ByteScanner", "io.RuneScanner", "io.WriterTo"},
	{"io.Reader", "io.ByteReader", "io.Closer"},
	{"io.Reader", "io.Seeker", "io.ReaderAt"},
	{"io.Reader", "io.Seeker", "io.ReaderAt", "io.Closer"},
	{"io.Reader", "io.Seeker", "io.ReaderAt", "io.ByteScanner", "io.RuneScanner", "io.WriterTo"},
	{"io.Reader", "io.Closer", "io.WriterTo"},
	{"io.Writer", "io.ReaderFrom"},
	{"io.Writer", "io.StringWriter"},
	{"io.Writer", "io.ByteWriter"},
	{"io.Writer", "io.ByteWriter", "io.StringWriter"},
	{"io.Writer", "io.ByteWriter", "io.StringWriter", "io.ReaderFrom"},
	{"io.Writer", "io.Closer", "io.StringWriter"},
	{"io.Writer", "io.Closer", "io.ReaderFrom"},
	{"io.Reader", "io.Writer", "io.StringWriter"},
	{"io.Reader", "io.Writer", "io.ReaderFrom", "io.WriterTo"},
	{"io/fs.ReadDirFS", "io/fs.ReadFileFS"},
	{"io/fs.ReadDirFS", "io/fs.StatFS"},
	{"io/fs.ReadFileFS", "io/fs.StatFS"},
	{"io/fs.ReadDirFS", "io/fs.ReadFileFS", "io/fs.StatFS"},
	{"io/fs.ReadDirFS", "io/fs.ReadFileFS", "io/fs.StatFS", "io/fs.GlobFS", "io/fs.SubFS"},
	{"io/fs.File", "io.Seeker"},
	{"io/fs.ReadDirFile", "io.Seeker"},
	{"net/http.ResponseWriter", "net/http.Flusher"},
	{"encoding/json.Marshaler", "encoding/json.Unmarshaler"},
	{"encoding/json.Marshaler", "fmt.Stringer"},
	{"encoding/json.Marshaler", "error"},
	{"encoding.TextMarshaler", "encoding.TextUnmarshaler"},
	{"encoding.TextMarshaler", "fmt.Stringer"},
	{"encoding.TextMarshaler", "encoding/json.Marshaler"},
	{"encoding.BinaryMarshaler", "encoding.BinaryUnmarshaler"},
	{"log/slog.LogValuer", "fmt.Stringer"},
	{"log/slog.LogValuer", "error"},
	{"fmt.Stringer", "error"},
}

// adapter is one struct to generate.
type adapter struct {
	name    string
	methods []*types.Func
	texts   map[string]string // name of method -> signature
}

func (a *adapter) isError() bool { return a.texts["Error"] == "func() string" }

// within says whether b has all methods of a.
func (a *adapter) within(b *adapter) bool {
	for name, text := range a.texts {
		if b.texts[name] != text {
			return false
		}
	}
	return true
}

func writeAdapters(p *packages, out *output) error {
	adapters, err := collectAdapters(p)
	if err != nil {
		return err
	}
	s := newSource(p)
	s.use("unsafe")
	writeAdapterTable(s, adapters)
	s.printf("func makeAdapter(index int, r Receiver) any {\n\tswitch index {\n")
	for i, a := range adapters {
		s.printf("\tcase %d:\n\t\treturn %s\n", i, construct(a))
	}
	s.printf("\t}\n\treturn nil\n}\n")
	for _, a := range adapters {
		writeAdapter(s, a)
	}
	file, err := s.file()
	if err != nil {
		return err
	}
	fmt.Printf("%d adapters\n", len(adapters))
	out.add("kernel/symbols/generated_adapters.go", file)
	return nil
}

func collectAdapters(p *packages) ([]*adapter, error) {
	byName := map[string]*adapter{"error": newAdapter("error", types.Universe.Lookup("error").Type())}
	for _, one := range p.all {
		scope := one.types.Scope()
		for _, name := range scope.Names() {
			object, ok := scope.Lookup(name).(*types.TypeName)
			if !ok || !object.Exported() || object.IsAlias() || generic(object) {
				continue
			}
			inter, ok := object.Type().Underlying().(*types.Interface)
			if ok && inter.NumMethods() > 0 && p.nameableInterface(inter) && one.ImportPath != sortingPath {
				key := one.ImportPath + "." + name
				byName[key] = newAdapter(key, inter)
			}
		}
	}
	for _, names := range combined {
		a := &adapter{name: strings.Join(names, "+"), texts: map[string]string{}}
		for _, name := range names {
			if byName[name] == nil {
				return nil, fmt.Errorf("no interface %s to combine", name)
			}
			a.include(byName[name].methods)
		}
		byName[a.name] = a
	}
	var adapters []*adapter
	for _, name := range sortedKeys(byName) {
		adapters = append(adapters, byName[name])
	}
	return adapters, nil
}

func newAdapter(name string, t types.Type) *adapter {
	a := &adapter{name: name, texts: map[string]string{}}
	inter := t.Underlying().(*types.Interface)
	for i := range inter.NumMethods() {
		a.include([]*types.Func{inter.Method(i)})
	}
	return a
}

func (a *adapter) include(methods []*types.Func) {
	for _, method := range methods {
		if a.texts[method.Name()] == "" {
			a.methods = append(a.methods, method)
			a.texts[method.Name()] = signature.Of(method.Signature())
		}
	}
	slices.SortFunc(a.methods, func(x, y *types.Func) int { return strings.Compare(x.Name(), y.Name()) })
}

func structName(a *adapter) string {
	return "adapter_" + strings.NewReplacer("/", "_", ".", "_", "+", "_and_").Replace(a.name)
}

func construct(a *adapter) string {
	if a.isError() {
		return structName(a) + "{ErrorAdapter{Adapter{r}}}"
	}
	return structName(a) + "{Adapter{r}}"
}

func writeAdapterTable(s *source, adapters []*adapter) {
	s.printf("// adapters is every generated adapter, by name.\nvar adapters = []adapterEntry{\n")
	for _, a := range adapters {
		s.printf("\t{%q, []adapterMethod{", a.name)
		for _, method := range a.methods {
			s.printf("{%q, %q}, ", method.Name(), a.texts[method.Name()])
		}
		s.printf("}, []uint16{")
		var wider []int
		for i, b := range adapters {
			if len(b.methods) > len(a.methods) && a.within(b) {
				wider = append(wider, i)
			}
		}
		slices.SortStableFunc(wider, func(i, j int) int { return len(adapters[j].methods) - len(adapters[i].methods) })
		for _, i := range wider {
			s.printf("%d, ", i)
		}
		s.printf("}},\n")
	}
	s.printf("}\n\n")
}

func writeAdapter(s *source, a *adapter) {
	base := "Adapter"
	if a.isError() {
		base = "ErrorAdapter"
	}
	s.printf("\ntype %s struct{ %s }\n", structName(a), base)
	for _, method := range a.methods {
		sig := method.Signature()
		var parameters, in, results, outs []string
		for i, text := range s.parameterTexts(sig) {
			parameters = append(parameters, fmt.Sprintf("a%d %s", i, text))
			in = append(in, fmt.Sprintf("p_unsafe.Pointer(&a%d)", i))
		}
		for i := range sig.Results().Len() {
			results = append(results, fmt.Sprintf("r%d %s", i, s.typeText(sig.Results().At(i).Type())))
			outs = append(outs, fmt.Sprintf("p_unsafe.Pointer(&r%d)", i))
		}
		s.printf("\nfunc (a %s) %s(%s) (%s) {\n", structName(a), method.Name(), strings.Join(parameters, ", "), strings.Join(results, ", "))
		s.printf("\ta.CallMethod(%q, %s, %s)\n", method.Name(), pointers(in), pointers(outs))
		if len(results) > 0 {
			s.printf("\treturn\n")
		}
		s.printf("}\n")
	}
}

func pointers(list []string) string {
	if len(list) == 0 {
		return "nil"
	}
	return "[]p_unsafe.Pointer{" + strings.Join(list, ", ") + "}"
}
