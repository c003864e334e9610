package words

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

const strippedDown = `format = 1
[procedure]
name = "Open the cover"
engine = "Osier 125 single"
direction = "open"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Out"
groups = ["main"]
remove = true
order = "listed"
[[part]]
name = "camshaft"
[[part]]
name = "shim"
count = 4
`

func stateOf(t *testing.T, text string) *walk.State {
	t.Helper()
	p, problems := read.Procedure("x.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return walk.New(plan.Of(p))
}

// said is a result with its error in one line.
func said(err error, parts ...any) string {
	if err != nil {
		return "refused: " + err.Error()
	}
	return strings.TrimSuffix(fmt.Sprintln(parts...), "\n")
}

func TestWhatNoSheetHasIsReadWithItsFacts(t *testing.T) {
	for text, want := range map[string]string{
		`"thin washer under the cam sprocket" good, box 3`: "thin washer under the cam sprocket 0 map[box:3 condition:good] ",
		`“odd clip”, bent, because "it was, in the sump"`:  "odd clip 0 map[condition:bent] it was, in the sump",
		"„clip“":                       "clip 0 map[] ",
		"'clip'":                       "clip 0 map[] ",
		"odd clip, worn":               "odd clip 0 map[condition:worn] ",
		" 2 × odd clip, box 1":         "odd clip 2 map[box:1] ",
		"12 x \"odd, thin clip\" good": "odd, thin clip 12 map[condition:good] ",
		"2 ×":                          "2 × 0 map[] ",
		"two x clip":                   "two x clip 0 map[] ",
		"3 y clip":                     "3 y clip 0 map[] ",
		`"odd clip good`:               `refused: the name is not closed with "; write it like: ` + NewExample,
		`"" good`:                      "refused: say what it is, and how it was found; write it like: " + NewExample,
		", good":                       "refused: say what it is, and how it was found; write it like: " + NewExample,
		"clip, box":                    "refused: box what? Write it with its words, such as: box 2",
	} {
		c, err := NewIn(text)
		if got := said(err, c.New, c.Count, c.Facts, c.Text); got != want || c.Do != walk.Find {
			t.Errorf("%q is %s\nwant %s", text, got, want)
		}
	}
}

func TestWhatCameLooseIsReadBeforeTheColon(t *testing.T) {
	p := stateOf(t, strippedDown).Plan.Procedure
	for text, want := range map[string]string{
		"M1, m2: it rattles": "[M1 M2] it rattles", "M2:turned": "[M2] turned", "M1 M2 : both": "[M1 M2] both",
		"it rattles": "[] it rattles", "M1, M9: it rattles": "[] M1, M9: it rattles", ": why": "[] : why", ", : why": "[] , : why",
	} {
		loose, reason := LooseIn(text, p)
		if got := fmt.Sprint(loose, " ", reason); got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"stripped, case": "stripped, case map[stripped:case]", "stripped , Bolt": "stripped, bolt map[stripped:bolt]", "seized, by rust, case": "seized, by rust, case map[stripped:case]",
		"stripped, cases": "stripped, cases map[]", "case": "case map[]",
	} {
		what, facts := TroubleIn(text)
		if got := fmt.Sprint(what, " ", facts); got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

func TestARepairIsReadByItsKeys(t *testing.T) {
	for text, want := range map[string]string{
		RepairExample: "map[by:the machine shop drive:as the sheet engagement:14 mm insert:wire coil size:M8x1.25 torque:as the sheet]",
		"Insert solid bush, glued, pinned, by me": "map[by:me insert:solid bush, glued, pinned]",
		"by me,, size M8":                         "map[by:me size:M8]",
		"":                                        "map[]",
		"a bush, by me":                           `refused: "a bush" is none of: ` + strings.Join(walk.RepairFacts, ", ") + "; write it like: " + RepairExample,
		"by":                                      `refused: "by" is none of: ` + strings.Join(walk.RepairFacts, ", ") + "; write it like: " + RepairExample,
		"by me, by you":                           "refused: by is said twice, me and you; say it once",
	} {
		facts, err := RepairIn(text)
		if got := said(err, facts); got != want {
			t.Errorf("%q is %s\nwant %s", text, got, want)
		}
	}
}

func TestWhichOfSeveralIsReadOffTheFront(t *testing.T) {
	four, one := &spec.Part{Count: 4}, &spec.Part{Count: 1}
	for _, c := range []struct {
		text string
		part *spec.Part
		want string
	}{
		{"3 worn", four, "3|worn"}, {"third: worn", four, "3|worn"}, {"3rd, worn", four, "3|worn"}, {"2nd", four, "2|"}, {"4 worn", four, "4|worn"}, {"1 worn", four, "1|worn"},
		{"5 worn", four, "|5 worn"}, {"0 worn", four, "|0 worn"}, {"worn", four, "|worn"}, {"1 worn", one, "|1 worn"}, {"3 worn", nil, "|3 worn"},
	} {
		piece, rest := PieceIn(c.text, c.part)
		if got := piece + "|" + rest; got != c.want {
			t.Errorf("%q is %s, want %s", c.text, got, c.want)
		}
	}
	for text, want := range map[string]string{
		"third shim worn": "3 shim worn true", "First shim": "1 shim true", "inlet cam scored": "inlet cam scored true", "12th  shim": "12 shim true", "twelfth shim": "12 shim true",
		"worn shim": " worn shim false", "box 3": " box 3 false", "cracked shim": " cracked shim false", "shim": " shim false",
	} {
		piece, rest, ok := PieceBefore(text)
		if got := fmt.Sprint(piece, " ", rest, " ", ok); got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

func TestAPictureIsReadWithWhatItIsOf(t *testing.T) {
	s := stateOf(t, strippedDown)
	for text, want := range map[string]string{
		"lobe.jpg of camshaft, scored on the second lobe": "lobe.jpg|camshaft|scored on the second lobe",
		"lobe.jpg of camshaft":                            "lobe.jpg|camshaft|",
		"lobe.jpg of Whole, as it came":                   "lobe.jpg|whole|as it came",
		"lobe.jpg, scored":                                "lobe.jpg||scored",
		"lobe.jpg":                                        "lobe.jpg||",
		`"lobe of cam.jpg" of M1`:                         "lobe of cam.jpg|M1|",
		`'a, b.jpg', why`:                                 "a, b.jpg||why",
		"":                                                "refused: the picture is not named; write: " + PhotoExample,
		"a.jpg of nothing, why":                           `refused: nothing here is called "nothing"; write: ` + PhotoExample + `, or of whole; a file name with " of " in it goes in quotes`,
	} {
		path, target, caption, err := PhotoIn(text, s)
		if got := said(err, path+"|"+target+"|"+caption); got != want {
			t.Errorf("%q is %s\nwant %s", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"camshaft: scored on its base circle": "camshaft|scored on its base circle", "WHOLE : oily": walk.Whole + "|oily", "nothing: here": "|nothing: here", "camshaft scored": "|camshaft scored",
	} {
		target, rest := AboutIn(text, s)
		if got := target + "|" + rest; got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

// What was found is told back: of one piece of several, of a thing no sheet has, of what was in hand.
func TestWhatWasFoundIsToldBack(t *testing.T) {
	facts := walk.Facts{walk.Condition: "worn", walk.OfPiece: "third"}
	piece := walk.Command{Do: walk.Find, Target: "shim", Facts: facts}
	if got := Found(stateOf(t, strippedDown), piece); got != "found shim third: worn" || facts[walk.OfPiece] != "third" {
		t.Errorf("of a piece: %q, and the facts are %v", got, facts)
	}
	clip := walk.Command{Do: walk.Find, New: "odd clip", Count: 2, Facts: walk.Facts{walk.Condition: "bent"}}
	for text, want := range map[string]string{
		strippedDown: "2 × odd clip, bent; it is on no sheet, and the close-up will ask for it",
		strings.NewReplacer(`"open"`, `"close"`, "remove = true", "torque = \"9 N·m\"").Replace(strippedDown): "2 × odd clip, bent; it is on no sheet, and is asked for before done",
	} {
		if got := Found(stateOf(t, text), clip); got != want {
			t.Errorf("of what no sheet has: %q, want %q", got, want)
		}
	}
	for want, e := range map[string]walk.Event{
		"H3, the fastener itself, number lot 88": {Fastener: "H3", Piece: walk.Itself, Number: "lot 88"}, "H3, washer": {Fastener: "H3", Piece: "washer"}, "gasket": {Piece: "gasket"}, walk.Itself: {Piece: walk.Itself},
	} {
		if got := NewPiece(e); got != want {
			t.Errorf("a new piece is %q, want %q", got, want)
		}
	}
}

// A picture that was just kept is told with what it is of.
func TestAPictureKeptIsTold(t *testing.T) {
	h := inHand(t, strippedDown).does(note("", "dry"), walk.Command{Do: walk.Picture, Target: "camshaft", Text: "the second lobe", Facts: walk.Photo{Name: "lobe.jpg", SHA256: strings.Repeat("0f", 32), Type: "jpg"}.Facts()})
	if got := Kept(h.s); got != "photo lobe.jpg: the second lobe, of camshaft" {
		t.Errorf("told %q", got)
	}
}

// An item's fastener is that of its stage, or its own.
func TestTheFastenerInHand(t *testing.T) {
	s := stateOf(t, strippedDown)
	m1 := s.Plan.Procedure.Fastener("M1")
	i, ok := s.Find("Out/M1")
	if !ok || InHand(nil) != nil || InHand(&s.Items[i]) != m1 || InHand(&walk.Item{Asked: &walk.Asked{Kind: walk.PrepItem}, Fastener: m1}) != m1 || InHand(&walk.Item{Asked: &walk.Asked{Kind: walk.PartItem}}) != nil {
		t.Error("the fastener in hand is another")
	}
	if got := Repaired(walk.Facts{"by": "me", "size": "M8"}); strings.Count(got, ",") != 1 || !strings.Contains(got, "size M8") || !strings.HasPrefix(got, "repaired thread: ") {
		t.Errorf("a repair is told as %q", got)
	}
	for want, c := range map[string]walk.Carried{"": {}, "away for balancing: mark it back first": {Away: "balancing", Unclean: "truing"}, "back from truing: " + walk.CleanQuestion("truing"): {Unclean: "truing"}} {
		if got := NotReady(c); got != want {
			t.Errorf("it is not ready: %q, want %q", got, want)
		}
	}
}
