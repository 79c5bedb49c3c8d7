package report

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

func exchange(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	if errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return errNoExchange
	}
	return err
}

func toDisk(*os.File, int64, int64) {}
