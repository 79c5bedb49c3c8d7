package date

// Parse reads a date, with or without a time of day.
func Parse(text string, order Order) (Stamp, error) {
	return Stamp{}, &Error{Text: text, Problem: "is not a date"}
}

// ParseClock reads a time of day alone and returns ms since midnight.
func ParseClock(text string) (int32, error) {
	return 0, &Error{Text: text, Problem: "is not a time of day"}
}

// ParseUnix reads a Unix time: seconds, milliseconds, microseconds or
// nanoseconds since 1970, told apart by size.
func ParseUnix(text string) (Stamp, error) {
	return Stamp{}, &Error{Text: text, Problem: "is not a Unix time"}
}
