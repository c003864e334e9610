package cli

import (
	"errors"
	"os/exec"
	"strconv"
)

// codeOf gives the exit code inside an error of a process.
func codeOf(err error) string {
	var ee *exec.ExitError
	if err == nil {
		return "0"
	}
	if errors.As(err, &ee) {
		return strconv.Itoa(ee.ExitCode())
	}
	return err.Error()
}
