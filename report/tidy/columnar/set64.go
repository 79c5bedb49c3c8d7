package columnar

// set64 numbers distinct values: an open table that grows with them.
type set64 struct {
	keys  []uint64
	at    []int32 // one more than the number; 0 is free
	n     int
	shift int
}

func (s *set64) reset() {
	s.n = 0
	if len(s.keys) > 1<<17 || s.keys == nil {
		s.resize(12)
		return
	}
	clear(s.at)
}

func (s *set64) resize(bits int) {
	keys, at := s.keys, s.at
	s.keys, s.at, s.shift = make([]uint64, 1<<bits), make([]int32, 1<<bits), 64-bits
	if s.n == 0 {
		return
	}
	for i, a := range at {
		if a != 0 {
			s.put(keys[i], a)
		}
	}
}

func (s *set64) put(key uint64, at int32) {
	for h := s.home(key); ; h = (h + 1) & (len(s.keys) - 1) {
		if s.at[h] == 0 {
			s.keys[h], s.at[h] = key, at
			return
		}
	}
}

func (s *set64) home(key uint64) int { return int(key * 0x9e3779b97f4a7c15 >> s.shift) }

// add returns the number of a key, next where it is new.
func (s *set64) add(key uint64, next int32) int32 {
	h := s.home(key)
	for s.at[h] != 0 {
		if s.keys[h] == key {
			return s.at[h] - 1
		}
		h = (h + 1) & (len(s.keys) - 1)
	}
	s.keys[h], s.at[h] = key, next+1
	if s.n++; 2*s.n > len(s.keys) {
		s.resize(64 - s.shift + 1)
	}
	return next
}
