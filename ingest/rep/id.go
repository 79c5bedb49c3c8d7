package rep

// ID returns the rep_id of row i: a 64-bit hash (FNV-1a with a finishing mix)
// of the source's content, sheet, row and rep position. The name of the file
// is no part of it, so a renamed export keeps its ids. Among ten million reps
// two share an id with a chance of 3 in a million (birthday bound n²/2⁶⁵).
func (t *Table) ID(i int32) uint64 {
	if t.given != nil {
		return t.given[i]
	}
	return t.idOf(t.idsOf(t.Source.At(i), t.Sheet.At(i)), i)
}

// IDs adds the ids of rows to dst.
func (t *Table) IDs(dst []uint64, rows []int32) []uint64 {
	dst, to := more(dst, len(rows))
	var source, sheet Sym
	begun := t.idsOf(0, 0)
	for k, i := range rows {
		if t.given != nil {
			to[k] = t.given[i]
			continue
		}
		if a, b := t.Source.At(i), t.Sheet.At(i); a != source || b != sheet {
			source, sheet, begun = a, b, t.idsOf(a, b)
		}
		to[k] = t.idOf(begun, i)
	}
	return dst
}

const (
	idBasis = 14695981039346656037
	idPrime = 1099511628211
)

// idsOf returns the part of an id that all rows of a sheet share.
func (t *Table) idsOf(source, sheet Sym) uint64 {
	h := uint64(idBasis)
	for sum, n := t.content[source], 0; n < 8; n++ {
		h = (h ^ sum&0xff) * idPrime
		sum >>= 8
	}
	for _, c := range []byte(t.Text.Text(sheet)) {
		h = (h ^ uint64(c)) * idPrime
	}
	return h
}

// idOf returns the id of row i from what idsOf has begun.
func (t *Table) idOf(h uint64, i int32) uint64 {
	h = hashed(h, uint32(t.Row[i]))
	h = hashed(h, uint32(t.RepRecorded.Get(i)))
	h ^= h >> 33
	h *= 0xff51afd7ed558ccd
	h ^= h >> 33
	h *= 0xc4ceb9fe1a85ec53
	return h ^ h>>33
}

// hashed adds the bytes of v to a hash, from the lowest. Of most numbers all
// but the lowest are 0, which only multiply.
func hashed(h uint64, v uint32) uint64 {
	if v < 1<<8 {
		return (h ^ uint64(v)) * (idPrime * idPrime * idPrime * idPrime % (1 << 64))
	}
	h = (h ^ uint64(v&0xff)) * idPrime
	h = (h ^ uint64(v>>8&0xff)) * idPrime
	h = (h ^ uint64(v>>16&0xff)) * idPrime
	return (h ^ uint64(v>>24)) * idPrime
}
