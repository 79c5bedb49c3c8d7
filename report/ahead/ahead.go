// Package ahead works out a list of results side by side and hands them over
// in order. It is a leaf: files of every kind are written from such lists.
package ahead

import (
	"iter"
	"runtime"
)

// Of yields the results of work(0) … work(n-1) in that order, while the next
// ones are worked out side by side: as many at once as there are processors,
// and a few more wait, so that none idles while a long one is waited for.
func Of[T any](n int, work func(i int) T) iter.Seq2[int, T] {
	return Most(n, 4*runtime.GOMAXPROCS(0), work)
}

// Most is [Of] where at most so many results, which have to be more than there
// are processors, are under way or wait.
func Most[T any](n, most int, work func(i int) T) iter.Seq2[int, T] {
	return func(yield func(int, T) bool) {
		atOnce := make(chan struct{}, runtime.GOMAXPROCS(0))
		var begun []chan T
		for i := range n {
			for k := i + len(begun); k < min(n, i+most); k++ {
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
