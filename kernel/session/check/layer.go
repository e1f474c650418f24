package check

// layer is a map that is never changed: with returns a new one. Copies cost
// nothing, a lookup the logarithm of the number of names, as small layers are
// merged into larger ones.
type layer[V any] struct {
	entries map[string]V
	below   *layer[V]
}

func (l *layer[V]) get(name string) (value V, ok bool) {
	for ; l != nil; l = l.below {
		if value, ok = l.entries[name]; ok {
			return value, true
		}
	}
	return value, false
}

// with returns the map with the entries added; it keeps the map entries.
func (l *layer[V]) with(entries map[string]V) *layer[V] {
	if len(entries) == 0 {
		return l
	}
	for l != nil && len(l.entries) <= 2*len(entries) {
		merged := make(map[string]V, len(entries)+len(l.entries))
		for name, value := range l.entries {
			merged[name] = value
		}
		for name, value := range entries {
			merged[name] = value
		}
		entries, l = merged, l.below
	}
	return &layer[V]{entries: entries, below: l}
}

// all calls yield for every name with its present value.
func (l *layer[V]) all(yield func(string, V) bool) {
	seen := make(map[string]bool)
	for ; l != nil; l = l.below {
		for name, value := range l.entries {
			if seen[name] {
				continue
			}
			seen[name] = true
			if !yield(name, value) {
				return
			}
		}
	}
}
