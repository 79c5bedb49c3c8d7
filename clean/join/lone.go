package join

// Lone returns which reps of two units have no counterpart in the other, by the
// best alignment of their speeds in order: the numbers of such reps of a and of
// b, rising.
func (g *Aligner) Lone(x, y *Set) (ofA, ofB []int) {
	a, b, rounding := x.Speeds, y.Speeds, (x.SpeedStep+y.SpeedStep)/4
	n, m := len(a), len(b)
	best := g.best.of(n+1, m+1)
	for i := n; i >= 0; i-- {
		for j := m; j >= 0; j-- {
			switch {
			case i == n && j == m:
			case i == n:
				best[i][j] = best[i][j+1] - readAlone
			case j == m:
				best[i][j] = best[i+1][j] - readAlone
			default:
				best[i][j] = max(best[i+1][j+1]+scoreReading(a[i], b[j], rounding), best[i+1][j]-readAlone, best[i][j+1]-readAlone)
			}
		}
	}
	i, j := 0, 0
	for i < n && j < m {
		switch best[i][j] {
		case best[i+1][j+1] + scoreReading(a[i], b[j], rounding):
			i, j = i+1, j+1
		case best[i+1][j] - readAlone:
			ofA = append(ofA, i)
			i++
		default:
			ofB = append(ofB, j)
			j++
		}
	}
	for ; i < n; i++ {
		ofA = append(ofA, i)
	}
	for ; j < m; j++ {
		ofB = append(ofB, j)
	}
	return ofA, ofB
}
