package symbols

import (
	"go/constant"
	"go/token"
	"go/types"
	"reflect"
	"testing"

	"github.com/traefik/yaegi/stdlib"
)

// The constants of all packages must be those the compiler of this very test
// used: yaegi's tables hold them as compiled.
func TestConstantsAreThoseOfThisPlatform(t *testing.T) {
	s := newSession()
	compared := 0
	for _, path := range Packages() {
		pkg, err := s.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range pkg.Scope().Names() {
			declared, ok := pkg.Scope().Lookup(name).(*types.Const)
			if !ok {
				continue
			}
			compiled, ok := stdlib.Symbols[path+"/"+pkg.Name()][name]
			if !ok {
				continue
			}
			compared++
			if want := constantOf(compiled); !sameConstant(declared.Val(), want) {
				t.Errorf("%s.%s is %v, compiled as %v", path, name, declared.Val(), want)
			}
		}
	}
	if compared < 2700 {
		t.Errorf("only %d constants were compared", compared)
	}
	t.Logf("%d constants compared", compared)
}

// sameConstant compares floats as float64: yaegi's tables round them to 512 bits.
func sameConstant(a, b constant.Value) bool {
	if a.Kind() == constant.Float {
		x, _ := constant.Float64Val(a)
		y, _ := constant.Float64Val(b)
		return x == y
	}
	return constant.Compare(constant.ToInt(a), token.EQL, constant.ToInt(b)) || a.ExactString() == b.ExactString()
}

func constantOf(value reflect.Value) constant.Value {
	if value.CanInterface() {
		if exact, ok := value.Interface().(constant.Value); ok {
			return exact
		}
	}
	switch {
	case value.CanInt():
		return constant.MakeInt64(value.Int())
	case value.CanUint():
		return constant.MakeUint64(value.Uint())
	case value.CanFloat():
		return constant.MakeFloat64(value.Float())
	case value.Kind() == reflect.String:
		return constant.MakeString(value.String())
	case value.Kind() == reflect.Bool:
		return constant.MakeBool(value.Bool())
	}
	return constant.MakeUnknown()
}

// A type another package mentioned first makes a package before its constants
// are put in.
func TestPlatformConstantsOfAPackageHalfKnown(t *testing.T) {
	s := newSession()
	if _, err := s.Import("os/signal"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Import("os"); err != nil {
		t.Fatal(err)
	}
	for path, constants := range platformConstants {
		pkg, err := s.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range constants {
			object, ok := pkg.Scope().Lookup(c.name).(*types.Const)
			if !ok || object.Val() != c.value || object.Pkg() != pkg {
				t.Errorf("%s.%s is %v, want %v", path, c.name, object, c.value)
			}
		}
	}
}
