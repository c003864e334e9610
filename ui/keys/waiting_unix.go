//go:build unix

package keys

import (
	"os"

	"golang.org/x/sys/unix"
)

// waiting reports whether there is more to read at once.
func waiting(f *os.File) bool {
	poll := []unix.PollFd{{Fd: int32(f.Fd()), Events: unix.POLLIN}}
	n, err := unix.Poll(poll, 0)
	return err == nil && n == 1 && poll[0].Revents&unix.POLLIN != 0
}
