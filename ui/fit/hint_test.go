package fit

import (
	"testing"

	"github.com/charmbracelet/bubbles/textinput"

	"evenpull/ui/internal/anysize"
)

// A text field is drawn letter for letter, so that its cursor stands where it types.
func TestAFieldIsDrawnAsTheTerminalCanShowIt(t *testing.T) {
	in := textinput.New()
	in.Prompt = ""
	in.SetValue("22 N·m, 90°, 1½ … 轴")
	for ascii, want := range map[bool]string{false: "22 N·m, 90°, 1½ … 轴 ", true: "22 N.m, 90d, 1? . ? "} {
		t.Run(want, func(t *testing.T) {
			anysize.On(t, ascii)
			if got := Typed(in.View()); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}
