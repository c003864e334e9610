package voice

import (
	"os/exec"
	"syscall"
)

// apart starts a program without a window of its own.
func apart(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{HideWindow: true} }

func end(cmd *exec.Cmd) { _ = cmd.Process.Kill() }
