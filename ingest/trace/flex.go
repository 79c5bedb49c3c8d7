package trace

// flexOf returns by how much load and bar say that the middle of the bar rises
// before the plates do.
func (s *Segmenter) flexOf() float64 { return 0 }

// flex takes bar flex out of a stroke.
func (s *Segmenter) flex(k *stroke, m move) {}
