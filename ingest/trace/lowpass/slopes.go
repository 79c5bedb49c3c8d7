package lowpass

// Slopes writes the derivative of y: five-point central differences, which
// keep the peak of a lift at 20 Hz; shorter ones at the ends.
func Slopes(v, y []float64, dt float64) {
	n := len(y)
	for i := range y {
		switch {
		case i >= 2 && i < n-2:
			v[i] = (8*(y[i+1]-y[i-1]) - (y[i+2] - y[i-2])) / (12 * dt)
		case i >= 1 && i < n-1:
			v[i] = (y[i+1] - y[i-1]) / (2 * dt)
		case n > 1:
			j := min(max(i, 1), n-1)
			v[i] = (y[j] - y[j-1]) / dt
		}
	}
}
