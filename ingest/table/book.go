package table

func (f *File) openBook(in input) error {
	return &OpenError{Name: in.name, Problem: "reading of workbooks is not written yet"}
}
