//go:build unix

package voice

import (
	"os/exec"
	"syscall"
)

// apart starts a program in a session of its own: it has no terminal to write to
// or to read keys from, and it can be stopped with all that it has started.
func apart(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }

// end kills a program that has not been waited for, with all of its group.
func end(cmd *exec.Cmd) { _ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
