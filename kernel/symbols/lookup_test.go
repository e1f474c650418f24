package symbols

import (
	"go/types"
	"log"
	"os"
	"reflect"
	"runtime"
	"strings"
	"testing"
)

// withoutValue says whether an object has nothing compiled to find: constants
// and constraints, which are in the types only.
func withoutValue(object types.Object) bool {
	switch object := object.(type) {
	case *types.Const:
		return true
	case *types.TypeName:
		if object.Pkg().Path() == "iter" {
			return true // Seq and Seq2 are the types of functions, which have no methods to find
		}
		inter, ok := object.Type().Underlying().(*types.Interface)
		return ok && !inter.IsMethodSet()
	}
	return false
}

func isGeneric(object types.Object) bool {
	switch t := object.Type().(type) {
	case *types.Signature:
		return t.TypeParams().Len() > 0
	case *types.Named:
		return t.TypeParams().Len() > 0
	case *types.Alias:
		return t.TypeParams().Len() > 0
	}
	return false
}

// Every exported name of every package must lead somewhere: to a compiled
// object, to source text, or to a refusal that says what to write instead.
func TestEveryNameIsFoundOrRefused(t *testing.T) {
	s := newSession()
	refused := Refused()
	used := map[string]bool{}
	checked := 0
	for _, path := range Packages() {
		pkg, err := s.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range pkg.Scope().Names() {
			object := pkg.Scope().Lookup(name)
			fromText := s.sources[object.Pkg().Path()] != nil
			if !object.Exported() || withoutValue(object) || fromText {
				continue
			}
			if isGeneric(object) {
				if refused[path+"."+name] == "" {
					t.Errorf("%s.%s is generic and has neither source nor refusal", path, name)
				}
				used[path+"."+name] = true
				continue
			}
			checked++
			checkLookup(t, path, object)
		}
	}
	for key := range refused {
		if !used[key] {
			t.Errorf("refused %s does not exist, or has a body", key)
		}
	}
	if checked < 3000 {
		t.Errorf("only %d names were looked up", checked)
	}
	t.Logf("%d names looked up", checked)
}

func checkLookup(t *testing.T, path string, object types.Object) {
	t.Helper()
	value, ok := Lookup(path, object.Name())
	if !ok {
		t.Errorf("%s.%s (%T) is not found", path, object.Name(), object)
		return
	}
	switch object := object.(type) {
	case *types.Func:
		if value.Kind() != reflect.Func {
			t.Errorf("%s.%s is a %v, want a function", path, object.Name(), value.Type())
			return
		}
		sig := object.Signature()
		if value.Type().NumIn() != sig.Params().Len() || value.Type().NumOut() != sig.Results().Len() || value.Type().IsVariadic() != sig.Variadic() {
			t.Errorf("%s.%s is compiled as %v, but declared as %v", path, object.Name(), value.Type(), sig)
		}
	case *types.Var:
		if !value.CanAddr() {
			t.Errorf("%s.%s is not addressable", path, object.Name())
		}
	case *types.TypeName:
		if value.Kind() != reflect.Pointer || !value.IsNil() {
			t.Errorf("%s.%s is %v, want a typed nil pointer", path, object.Name(), value)
			return
		}
		named, ok := types.Unalias(object.Type()).(*types.Named)
		// A later Go may have made an alias of it, as 1.27 did of json.RawMessage.
		sameGo := generatedBy(t) == runtime.Version()
		if compiled := value.Type().Elem(); ok && sameGo && compiled.Name() != named.Obj().Name() {
			t.Errorf("%s.%s is compiled as %v", path, object.Name(), compiled)
		}
	}
}

// yaegi's tables bind these to something of another meaning.
func TestReplacedNamesAreGosOwn(t *testing.T) {
	for key, own := range map[string]any{
		"os.Exit": os.Exit, "os.FindProcess": os.FindProcess,
		"log.Fatal": log.Fatal, "log.Fatalf": log.Fatalf, "log.Fatalln": log.Fatalln, "log.New": log.New,
	} {
		path, name, _ := strings.Cut(key, ".")
		value, ok := Lookup(path, name)
		if !ok || value.Pointer() != reflect.ValueOf(own).Pointer() {
			t.Errorf("%s is %v, want Go's own", key, value)
		}
	}
	for _, test := range []struct{ path, name, want string }{
		{"log", "Logger", "*log.Logger"},
		{"log", "New", "func(io.Writer, string, int) *log.Logger"},
	} {
		value, ok := Lookup(test.path, test.name)
		if !ok || value.Type().String() != test.want {
			t.Errorf("%s.%s is %v, want %s", test.path, test.name, value, test.want)
		}
	}
}

func TestLookupOfWhatIsNotThere(t *testing.T) {
	for _, test := range [][2]string{{"fmt", "Nothing"}, {"fmt", "_Stringer"}, {"nothing", "Println"}, {"fmt", ""}, {"sort/sort", "Ints"}} {
		if value, ok := Lookup(test[0], test[1]); ok {
			t.Errorf("%s.%s is %v, want nothing", test[0], test[1], value)
		}
	}
}

func TestLibrary(t *testing.T) {
	library := Library()
	if library["show"] != "cobber/stdlib/show" {
		t.Errorf("show is %q in the library, want cobber/stdlib/show", library["show"])
	}
	for name, path := range library {
		if strings.Contains(name, "/") || !strings.HasSuffix(path, "/"+name) {
			t.Errorf("library has %q for %q", name, path)
		}
	}
}
