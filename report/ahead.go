package report

import (
	"iter"
	"runtime"
)

// ahead yields the results of 0 … n-1 in that order, while the next ones are
// worked out side by side: as many at once as there are processors, and a few
// more wait, so that none idles while a long one is waited for.
func ahead[T any](n int, work func(i int) T) iter.Seq2[int, T] {
	return func(yield func(int, T) bool) {
		cores := runtime.GOMAXPROCS(0)
		atOnce := make(chan struct{}, cores)
		var begun []chan T
		for i := range n {
			for k := i + len(begun); k < min(n, i+4*cores); k++ {
				result := make(chan T, 1)
				begun = append(begun, result)
				go func() {
					atOnce <- struct{}{}
					result <- work(k)
					<-atOnce
				}()
			}
			result := begun[0]
			begun = begun[1:]
			if !yield(i, <-result) {
				return
			}
		}
	}
}
