package read

import (
	"strings"
	"testing"

	"evenpull/spec"
)

const twoGroups = `format = 1
[procedure]
name = "Fit the head"
direction = "close"
source = "invented"
[group.head]
thread = "M10x1.25"
class = "10.9"
friction = "oiled"
grip = "112 mm"
one_use = true
[group.head.at]
H1 = [0, 0]
H2 = [80, 0]
[group.side]
thread = "M6x1"
[group.side.at]
S1 = [0, 80]
`

func TestLightFastenersAreKnownByTheirWords(t *testing.T) {
	for words, want := range map[string]string{
		"drain plug": "plug", "Spark plugs": "plug", "banjo bolt, front": "banjo", "oil switches": "switch", "cover (rubber gasket)": "gasket",
		"plugged hole": "", "gasketless joint": "", "filterer": "", "main bolts": "",
	} {
		if got := lightByName(&spec.Group{Title: words}); got != want {
			t.Errorf("%q is light for being a %q, want %q", words, got, want)
		}
	}
	if got := lightByName(&spec.Group{Title: "feed", With: []spec.Piece{{Part: "plain washer"}, {Part: "Sealing Washer 10 mm"}}}); got != "sealing washer" {
		t.Errorf("by what goes with it: %q", got)
	}
}

// Of three bolts none is the odd one; of four one may be.
func TestAPlaceFarFromAllOthersIsDoubted(t *testing.T) {
	for places, doubted := range map[string]bool{"H1 = [0, 0]\nH2 = [40, 0]\nS1 = [400, 0]": false, "H1 = [0, 0]\nH2 = [40, 0]\nH3 = [0, 40]\nS1 = [400, 0]": true} {
		head, _, _ := strings.Cut(twoGroups, "H1 = [0, 0]")
		text := head + strings.Replace(places, "\nS1", "\n[group.side]\nthread = \"M6x1\"\n[group.side.at]\nS1", 1) + "\n[[pass]]\nname = \"A\"\ngroups = [\"head\", \"side\"]\nverify = \"at least 5 N·m\"\norder = [" + ids(places) + "]\n"
		_, problems := Procedure("head.toml", []byte(text))
		if got := strings.Contains(problems.Error(), "from every other"); got != doubted {
			t.Errorf("%s: doubted %v, want %v\n%v", places, got, doubted, problems)
		}
	}
}

func ids(places string) string {
	var list []string
	for line := range strings.Lines(places) {
		list = append(list, `"`+line[:2]+`"`)
	}
	return strings.Join(list, ", ")
}
