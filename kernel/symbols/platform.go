package symbols

import (
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"math/bits"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
)

// platformConstants are the constants that differ between platforms. Export
// data has those of the platform it was made on; here the compiler puts in the
// ones of the platform that cobber runs on. (Were they mixed up, os.O_TRUNC of
// one system would be os.O_APPEND of another.)
var platformConstants = map[string][]platformConstant{
	"os": {
		integer("O_RDONLY", os.O_RDONLY), integer("O_WRONLY", os.O_WRONLY), integer("O_RDWR", os.O_RDWR),
		integer("O_APPEND", os.O_APPEND), integer("O_CREATE", os.O_CREATE), integer("O_EXCL", os.O_EXCL),
		integer("O_SYNC", os.O_SYNC), integer("O_TRUNC", os.O_TRUNC),
		{"DevNull", types.UntypedString, constant.MakeString(os.DevNull)},
		character("PathSeparator", os.PathSeparator), character("PathListSeparator", os.PathListSeparator),
	},
	"path/filepath": {
		character("Separator", filepath.Separator), character("ListSeparator", filepath.ListSeparator),
	},
	"runtime": {
		{"GOOS", types.String, constant.MakeString(runtime.GOOS)},
		{"GOARCH", types.String, constant.MakeString(runtime.GOARCH)},
	},
	"math": {
		untyped("MaxInt", math.MaxInt), untyped("MinInt", math.MinInt),
		{"MaxUint", types.UntypedInt, constant.MakeUint64(math.MaxUint)},
	},
	"math/bits": {untyped("UintSize", bits.UintSize)},
	"strconv":   {untyped("IntSize", strconv.IntSize)},
}

type platformConstant struct {
	name  string
	kind  types.BasicKind
	value constant.Value
}

func integer(name string, value int) platformConstant {
	return platformConstant{name, types.Int, constant.MakeInt64(int64(value))}
}

func untyped(name string, value int64) platformConstant {
	return platformConstant{name, types.UntypedInt, constant.MakeInt64(value)}
}

func character(name string, value rune) platformConstant {
	return platformConstant{name, types.UntypedRune, constant.MakeInt64(int64(value))}
}

// insertPlatformConstants puts them into a package that is about to be read:
// reading keeps what a scope already has.
func insertPlatformConstants(imports map[string]*types.Package, path string) {
	constants := platformConstants[path]
	if len(constants) == 0 {
		return
	}
	pkg := imports[path]
	if pkg == nil {
		name, _ := nameOf(path)
		pkg = types.NewPackage(path, name)
		imports[path] = pkg
	}
	for _, c := range constants {
		pkg.Scope().Insert(types.NewConst(token.NoPos, pkg, c.name, types.Typ[c.kind], c.value))
	}
}
