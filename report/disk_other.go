//go:build !linux && !darwin

package report

func exchange(a, b string) error { return errNoExchange }
