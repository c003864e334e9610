//go:build unix && outside

package cli

import (
	"os/exec"
	"testing"
)

func init() {
	rivals = append(rivals, rival{"GNU-units", func(b *testing.B) []string {
		units, err := exec.LookPath("units")
		if err != nil {
			b.Fatal(err)
		}
		return []string{units, "-t", "22 newton meter", "lbf foot"}
	}})
}
