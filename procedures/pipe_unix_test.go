//go:build unix

package procedures

import (
	"syscall"
	"testing"
)

func makePipe(t *testing.T, path string) {
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
}
