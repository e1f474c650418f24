package quantity

// Called is Named for an uncertain input that has no name yet: an input keeps
// the first name it was given. A cell of a notebook calls it by itself, with the
// name of the variable that the input is bound to.
func (q Quantity) Called(name string) Quantity {
	if !q.isInput() || q.cloud.shares[0].input.name != "" {
		return q
	}
	return q.Named(name)
}
