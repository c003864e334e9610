package cli

import (
	"fmt"
	"io"
)

// output passes results on and remembers the first failure, so that a result
// cut short by a full disk is not taken for a whole one.
type output struct {
	w   io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.w.Write(p)
	if err != nil && o.err == nil {
		o.err = fmt.Errorf("the result could not be written: %w", err)
	}
	return n, err
}
