package read

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestQuestionsToWhichYesIsBad(t *testing.T) {
	bad := []string{
		"Any cracks?", "Any cracks at the cross hole?", "Is it damaged?", "Is the seal worn?", "Are the threads damaged?", "Is it leaking?", "Does it leak?",
		"Oil leaking at the seal?", "Seal leaking?", "Thread stripped?", "Is anything missing?", "Anything bent or broken?", "Are there any burrs on the face?",
		"Is there play at the big end?", "Any play felt?", "Cracks visible?", "Is there swarf in the oilways?", "Has the gasket been damaged?", "Bearing seized?",
		"Shaft bent?", "Is there any rust on the taper?", "Faces clean, thread damaged?", "Any damage seen on the journals?", "Do the rings show wear?", "Was it dirty?",
		"Are the oilways blocked?", "Key missing?", "Is a tooth chipped or worn?", "Any scores on the bore?", "Worn?",
	}
	for _, q := range bad {
		if !yesIsBad(q) {
			t.Errorf("%q: nothing tells that a yes to it is bad", q)
		}
	}
	good := []string{
		"Both dowels in place?", "No cracks?", "Free of cracks and wear?", "Both faces free of nicks and scores?", "Is it undamaged?", "Not damaged?", "Nothing missing?",
		"Worn parts replaced?", "Damaged threads repaired?", "Rust removed?", "Burrs dressed off?", "Cracks looked for with dye?", "Is the wear limit met?",
		"Is the worn side outwards?", "Are the damaged teeth at the bottom?", "Leak test passed?", "Is the leak-off pipe on?", "Is wear within its limit?",
		"Taper let go, flywheel loose behind the nut?", "All bolts loose?", "End play measured?", "End play within the sheet's figure?", "Is the crank free to turn?",
		"Scratches polished out?", "Oilways blown through, clear of media and swarf?", "Wear even on all lobes?",
		"Torn gasket scraped off both faces?", "Does the crank turn without binding?", "Split pins bent over?", "Split collets seated?", "Tab bent against the flat?",
		"Is the score card signed?", "Dent in the sump knocked out?", "Is the play taken up?", "", "Dry?",
	}
	for _, q := range good {
		if yesIsBad(q) {
			t.Errorf("%q is held to be a question to which yes is bad", q)
		}
	}
}

// No question of a bundled sheet is doubted.
func TestYesIsGoodInBundledSheets(t *testing.T) {
	files, err := filepath.Glob("../../procedures/*.toml")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d bundled sheets, want 6 or more (%v)", len(files), err)
	}
	asked := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := Procedure(file, text)
		for _, c := range p.Checks {
			if c.Ask != "" {
				asked++
			}
			if yesIsBad(c.Ask) || strings.HasPrefix(c.Ask, "No ") || strings.Contains(c.Ask, ", no ") {
				t.Errorf("%s: yes to %q is not plainly good", file, c.Ask)
			}
		}
	}
	if asked < 40 {
		t.Errorf("only %d questions were looked at", asked)
	}
}
