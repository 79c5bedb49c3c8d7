package date

// clock is a time of day and its zone.
type clock struct {
	ms     int32 // since midnight
	zoned  bool  // an offset or zone was written
	offset int   // minutes east of Greenwich
}

// ParseClock reads a time of day alone and returns ms since midnight: 18:05,
// 18:05:07.25, 6:05 pm, 18h05, 18.05 Uhr, kl. 18.05. A zone behind it is
// allowed and has no effect.
func ParseClock(text string) (int32, error) {
	var ts tokens
	if ts.split(text) {
		c, found, ok := ts.clock()
		for i := 0; found && ok && i < ts.len; i++ {
			t := &ts.at[i]
			ok = t.used || ts.word(i).filler || t.kind == mark && (t.sign == '.' || t.sign == ',')
		}
		if found && ok {
			return c.ms, nil
		}
	}
	return 0, &Error{Text: text, Problem: "is not a time of day"}
}

// clock finds the time of day among the tokens and marks them as used. found
// says that there is one, ok that it is possible: 25:00 is found and not ok.
func (ts *tokens) clock() (c clock, found, ok bool) {
	for i := range ts.len {
		if !ts.digits(i, 1, 2) {
			continue
		}
		colon := ts.mark(i+1, ':') && ts.digits(i+2, 2, 2)
		hour := (ts.at[i+1].glued || ts.digits(i+2, 2, 2)) && (ts.is(i+1, "h") || ts.is(i+1, "ч")) || ts.is(i+1, "uhr") || ts.is(i+1, "godz")
		dotted := ts.mark(i+1, '.') && ts.digits(i+2, 2, 2) && ts.at[i+1].glued && ts.at[i+2].glued &&
			(ts.is(i+3, "uhr") || ts.is(i-1, "kl") || ts.is(i-1, "klo") ||
				ts.mark(i-1, '.') && ts.is(i-2, "kl") || ts.is(i-1, "ore") || ts.is(i-1, "godz") || ts.mark(i-1, '.') && ts.is(i-2, "godz"))
		_, meridiem := ts.meridiem(i + 1)
		switch {
		case colon:
			return ts.read(i, ':')
		case dotted:
			return ts.read(i, '.')
		case hour:
			return ts.read(i, 'h')
		case meridiem > 0:
			return ts.read(i, 0)
		}
	}
	return clock{}, false, true
}

// read reads the clock that starts at token i with the given sign between hour
// and minute; 0 is an hour alone.
func (ts *tokens) read(i int, sign rune) (c clock, found, ok bool) {
	from := i
	hour := ts.at[i].n
	var minute, second, ms int64
	i++
	switch {
	case sign == 'h':
		spaced := !ts.at[i].glued
		i++
		if ts.digits(i, 2, 2) && (ts.at[i].glued || spaced) {
			minute = ts.at[i].n
			i++
			if ts.is(i, "min") { // 18 h 05 min 07 s
				i++
				if ts.digits(i, 2, 2) && ts.is(i+1, "s") {
					second = ts.at[i].n
					i += 2
				}
			}
		}
	case sign != 0:
		minute = ts.at[i+1].n
		i += 2
		if ts.mark(i, sign) && ts.digits(i+1, 2, 2) {
			second = ts.at[i+1].n
			i += 2
			point := ts.mark(i, '.') || ts.mark(i, ',') || ts.mark(i, ':')
			if point && ts.digits(i+1, 1, 9) && ts.at[i].glued && ts.at[i+1].glued {
				ms = milliseconds(ts.at[i+1])
				i += 2
			}
		}
	}
	if pm, size := ts.meridiem(i); size > 0 {
		if hour < 1 || hour > 12 {
			return c, true, false
		}
		hour %= 12
		if pm {
			hour += 12
		}
		i += size
	}
	i = ts.zone(i, &c)
	for j := from; j < i; j++ {
		ts.at[j].used = true
	}
	if hour > 23 || minute > 59 || second > 59 || c.offset < -14*60 || c.offset > 14*60 {
		return c, true, false
	}
	c.ms = int32(((hour*60+minute)*60+second)*1000 + ms)
	return c, true, true
}

// milliseconds returns the fraction of a second that a number's digits are,
// cut after the third.
func milliseconds(t token) int64 {
	n := t.n
	for size := t.size; size < 3; size++ {
		n *= 10
	}
	for size := t.size; size > 3; size-- {
		n /= 10
	}
	return n
}

// meridiem reads am, pm, a.m., p. m. at token i and returns how many tokens it
// took, 0 for none.
func (ts *tokens) meridiem(i int) (pm bool, size int) {
	switch {
	case ts.is(i, "am"), ts.is(i, "pm"):
		pm, size = ts.is(i, "pm"), 1
	case (ts.is(i, "a") || ts.is(i, "p")) && ts.mark(i+1, '.') && ts.is(i+2, "m"):
		pm, size = ts.is(i, "p"), 3
	default:
		return false, 0
	}
	if size == 3 && ts.mark(i+size, '.') {
		size++
	}
	return pm, size
}

// zone reads a zone or offset at token i into c and returns the token behind.
func (ts *tokens) zone(i int, c *clock) int {
	var buf [40]byte
	if name := ts.fold(i, &buf); i < ts.len && name != nil {
		minutes, ok := zones[string(name)]
		if !ok {
			return i
		}
		c.zoned, c.offset = true, minutes
		i++
		if minutes != 0 {
			return i
		}
	}
	plus, minus := ts.mark(i, '+'), ts.mark(i, '-')
	if !plus && !minus || !ts.at[i+1].glued {
		return i
	}
	var minutes int64
	switch n := ts.at[i+1].n; {
	case ts.digits(i+1, 4, 4):
		minutes = n/100*60 + n%100
		i += 2
	case ts.digits(i+1, 1, 2) && ts.mark(i+2, ':') && ts.digits(i+3, 2, 2):
		minutes = n*60 + ts.at[i+3].n
		i += 4
	case ts.digits(i+1, 2, 2), ts.digits(i+1, 1, 1) && c.zoned: // "+02", "GMT+2"
		minutes = n * 60
		i += 2
	default:
		return i
	}
	c.zoned, c.offset = true, int(minutes)
	if minus {
		c.offset = -c.offset
	}
	return i
}
