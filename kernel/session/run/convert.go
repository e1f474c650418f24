package run

import (
	"go/constant"
	"go/token"
	"go/types"
	"reflect"
	"unsafe"

	"golang.org/x/tools/go/ssa"

	"cobber/stdlib/quantity"
)

type float interface{ ~float32 | ~float64 }

func intToFloat[F float](t reflect.Type, d, a uintptr) op {
	load := loadInt(t, a)
	if isSigned(t.Kind()) {
		return func(fp pointer) { *at[F](fp, d) = F(load(fp)) }
	}
	return func(fp pointer) { *at[F](fp, d) = F(uint64(load(fp))) }
}

func floatTo[F float](to reflect.Type, d, a uintptr) op {
	switch to.Kind() {
	case reflect.Float32:
		return func(fp pointer) { *at[float32](fp, d) = float32(*at[F](fp, a)) }
	case reflect.Float64:
		return func(fp pointer) { *at[float64](fp, d) = float64(*at[F](fp, a)) }
	case reflect.Int:
		return func(fp pointer) { *at[int](fp, d) = int(*at[F](fp, a)) }
	case reflect.Int8:
		return func(fp pointer) { *at[int8](fp, d) = int8(*at[F](fp, a)) }
	case reflect.Int16:
		return func(fp pointer) { *at[int16](fp, d) = int16(*at[F](fp, a)) }
	case reflect.Int32:
		return func(fp pointer) { *at[int32](fp, d) = int32(*at[F](fp, a)) }
	case reflect.Int64:
		return func(fp pointer) { *at[int64](fp, d) = int64(*at[F](fp, a)) }
	case reflect.Uint:
		return func(fp pointer) { *at[uint](fp, d) = uint(*at[F](fp, a)) }
	case reflect.Uint8:
		return func(fp pointer) { *at[uint8](fp, d) = uint8(*at[F](fp, a)) }
	case reflect.Uint16:
		return func(fp pointer) { *at[uint16](fp, d) = uint16(*at[F](fp, a)) }
	case reflect.Uint32:
		return func(fp pointer) { *at[uint32](fp, d) = uint32(*at[F](fp, a)) }
	case reflect.Uint64:
		return func(fp pointer) { *at[uint64](fp, d) = uint64(*at[F](fp, a)) }
	case reflect.Uintptr:
		return func(fp pointer) { *at[uintptr](fp, d) = uintptr(*at[F](fp, a)) }
	}
	return nil
}

// convertNumbers converts between integers, floats and complex numbers; nil for other kinds.
func convertNumbers(from, to reflect.Type, d, a uintptr) op {
	fk, tk := from.Kind(), to.Kind()
	switch {
	case isInteger(fk) && isInteger(tk):
		return storeInt(to, d, loadInt(from, a))
	case isInteger(fk) && tk == reflect.Float64:
		return intToFloat[float64](from, d, a)
	case isInteger(fk) && tk == reflect.Float32:
		return intToFloat[float32](from, d, a)
	case fk == reflect.Float64:
		return floatTo[float64](to, d, a)
	case fk == reflect.Float32:
		return floatTo[float32](to, d, a)
	case isComplex(fk) && isComplex(tk):
		return func(fp pointer) {
			v := reflect.NewAt(from, unsafe.Add(fp, a)).Elem().Complex()
			reflect.NewAt(to, unsafe.Add(fp, d)).Elem().SetComplex(v)
		}
	}
	return nil
}

// convert compiles a conversion that changes the representation.
func (c *compiler) convert(in *ssa.Convert, d uintptr) op {
	from, to := c.layout(in.X.Type()), c.layout(in.Type())
	a := c.offset(in.X)
	if from == quantityType || to == quantityType {
		return c.convertQuantity(from, to, d, a, in.Pos())
	}
	fk, tk := from.Kind(), to.Kind()
	switch {
	case fk == reflect.String && tk == reflect.String:
		return moveOp(to, d, a)
	case fk == reflect.String && tk == reflect.Slice && to.Elem().Kind() == reflect.Uint8:
		return func(fp pointer) { *at[[]byte](fp, d) = []byte(*at[string](fp, a)) }
	case fk == reflect.String && tk == reflect.Slice:
		return func(fp pointer) { *at[[]rune](fp, d) = []rune(*at[string](fp, a)) }
	case tk == reflect.String && fk == reflect.Slice && from.Elem().Kind() == reflect.Uint8:
		return func(fp pointer) { *at[string](fp, d) = string(*at[[]byte](fp, a)) }
	case tk == reflect.String && fk == reflect.Slice:
		return func(fp pointer) { *at[string](fp, d) = string(*at[[]rune](fp, a)) }
	case tk == reflect.String && isInteger(fk):
		load := loadInt(from, a)
		return func(fp pointer) { *at[string](fp, d) = runeText(load(fp)) }
	}
	if o := convertNumbers(from, to, d, a); o != nil {
		return o
	}
	refuse(in.Pos(), "", "a conversion from %s to %s is not possible in a cell", typeName(in.X.Type()), typeName(in.Type()))
	return nil
}

func runeText(r int64) string {
	if int64(rune(r)) != r {
		return "\uFFFD"
	}
	return string(rune(r))
}

// convertQuantity lets plain numbers become dimensionless quantities; nothing else converts.
func (c *compiler) convertQuantity(from, to reflect.Type, d, a uintptr, pos token.Pos) op {
	switch {
	case from == to:
		return moveOp(to, d, a)
	case to == quantityType && from.Kind() == reflect.Float64:
		return func(fp pointer) { *at[quantity.Quantity](fp, d) = quantity.Number(*at[float64](fp, a)) }
	case to == quantityType && from.Kind() == reflect.Float32:
		return func(fp pointer) { *at[quantity.Quantity](fp, d) = quantity.Number(float64(*at[float32](fp, a))) }
	case to == quantityType && isInteger(from.Kind()):
		load, signed := loadInt(from, a), isSigned(from.Kind())
		return func(fp pointer) {
			n := load(fp)
			if x := float64(n); signed {
				*at[quantity.Quantity](fp, d) = quantity.Number(x)
			} else {
				*at[quantity.Quantity](fp, d) = quantity.Number(float64(uint64(n)))
			}
		}
	}
	refuse(pos, `write q.Value("unit") for its number in a unit, or q.Float() if it has no dimension`,
		"a quantity does not convert to a plain number")
	return nil
}

// changeType compiles a conversion between types of one underlying type.
func (c *compiler) changeType(in *ssa.ChangeType, d uintptr) op {
	from, to := c.layout(in.X.Type()), c.layout(in.Type())
	a := c.offset(in.X)
	if types.IsInterface(in.X.Type()) {
		return c.interfaceToInterface(in.X.Type(), in.Type(), d, a)
	}
	if from != to && (from == quantityType || to == quantityType) {
		return c.convertQuantity(from, to, d, a, in.Pos())
	}
	if (from == quantityType) != (to == quantityType) {
		refuse(in.Pos(), "", "a quantity does not convert to %s", typeName(in.Type()))
	}
	return moveOp(to, d, a)
}

// literal compiles a quantity literal: a call of quantity.Of with constants, whose unit was checked
// with the cell.
func (c *compiler) literal(callee *ssa.Function, cc *ssa.CallCommon, to []uintptr) op {
	if callee.Blocks != nil || len(to) != 1 || callee.RelString(nil) != "cobber/stdlib/quantity.Of" {
		return nil
	}
	number, isConst := cc.Args[0].(*ssa.Const)
	unit, alsoConst := cc.Args[1].(*ssa.Const)
	if !isConst || !alsoConst {
		return nil
	}
	q, err := quantity.New(number.Float64(), constant.StringVal(unit.Value))
	if err != nil {
		return nil
	}
	d := to[0]
	return func(fp pointer) { *at[quantity.Quantity](fp, d) = q }
}
