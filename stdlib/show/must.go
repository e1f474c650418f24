package show

// Must is the value of a call that may fail, or else the end of the cell: it
// stops the cell as Check does if err is an error. Where Check takes a line of
// its own, Must stands around the call:
//
//	grinding := show.Must(comminution.Bond(12`kWh/t`, 2`mm`, 75`µm`))
//
// It is meant for notebooks and short programs; a package returns its errors.
func Must[T any](value T, err error) T {
	Check(err)
	return value
}
