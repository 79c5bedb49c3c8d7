package rep

// Null is a value that may be missing. The zero Null is missing.
type Null[T any] struct {
	V  T
	OK bool
}

// Some returns a value that is there.
func Some[T any](v T) Null[T] { return Null[T]{V: v, OK: true} }

// Ptr returns nil for a missing value, else a pointer to a copy: the form that
// row-type libraries keep 0 and null apart by.
func (n Null[T]) Ptr() *T {
	if !n.OK {
		return nil
	}
	return &n.V
}

// Or returns the value, or other where it is missing.
func (n Null[T]) Or(other T) T {
	if n.OK {
		return n.V
	}
	return other
}

// FromPtr is the inverse of [Null.Ptr].
func FromPtr[T any](p *T) Null[T] {
	if p == nil {
		return Null[T]{}
	}
	return Some(*p)
}
