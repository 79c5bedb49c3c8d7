package report

import (
	"iter"
	"runtime"
)

// ahead yields the results of 0 … n-1 in that order, while the next ones are
// worked out side by side: as many as there are processors.
func ahead[T any](n int, work func(i int) T) iter.Seq2[int, T] {
	return func(yield func(int, T) bool) {
		var begun []chan T
		for i := range n {
			for k := i + len(begun); k < min(n, i+runtime.GOMAXPROCS(0)); k++ {
				result := make(chan T, 1)
				begun = append(begun, result)
				go func() { result <- work(k) }()
			}
			result := begun[0]
			begun = begun[1:]
			if !yield(i, <-result) {
				return
			}
		}
	}
}
