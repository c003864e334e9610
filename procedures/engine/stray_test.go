package engine

import (
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

const plate = "[[part]]\nname = \"guide plate\"\n"

const sideBolt = "[group.side]\nthread = \"M6x1\"\nclass = \"8.8\"\n[group.side.at]\nS1 = [0, 40]\n[[pass]]\nname = \"Side\"\ngroups = [\"side\"]\nremove = true\n"

func brings(e Engine, p *spec.Procedure, id string) bool {
	return slices.ContainsFunc(e.Carried(p), func(c walk.Carried) bool { return c.ID == id })
}

// A sheet names what it has no place for, unless another of the engine has the place,
// however little else the two strip it down by.
func TestWhatAnotherSheetHasAPlaceForIsNotAskedByTheOneThatSharesMost(t *testing.T) {
	down := begin(t, "down", sheet(t, openSheet+plate), day).on("", nil).done().walk()
	cover := sheet(t, closeSheet)
	little := strings.NewReplacer(`"Close the cover"`, `"Fit the plate"`, "M1", "Z1", "M2", "Z2", `"thrust washer"`, `"spacer"`).Replace(closeSheet) + plate
	for _, c := range []struct {
		name  string
		other string
		want  bool
	}{
		{"a sheet that shares less has a place for it", little, false},
		{"that sheet is of another engine", strings.Replace(little, "Osier 125 single", "Osier 250 single", 1), true},
		{"it is another text of the sheet that asks", closeSheet + plate, true},
	} {
		other := sheet(t, c.other)
		e := fold("7", []Walk{down}, nil, []*spec.Procedure{other, cover})
		if got := brings(e, cover, "guide-plate"); got != c.want {
			t.Errorf("%s: brought to the cover: %v", c.name, got)
		}
	}
}

// Whichever of the clocks runs late: what has no place in the close walk that was brought
// it, and was accounted for there, does not come off again.
func TestAClockSetBackDoesNotTakeStraysOffAgain(t *testing.T) {
	down := begin(t, "down", sheet(t, strings.Replace(openSheet, "[[part]]", sideBolt+plate+"[[part]]", 1)), day).on("", nil).done().walk()
	closer := sheet(t, closeSheet)
	e := fold("7", []Walk{down}, nil, []*spec.Procedure{closer})
	for _, at := range []time.Time{day.AddDate(1, 0, 0), day.AddDate(-1, 0, 0)} {
		up := begin(t, "up", closer, at).bring(e)
		left := func() (list []string) {
			for _, o := range fold("7", []Walk{up.walk(), down}, nil, []*spec.Procedure{closer}).Off {
				if o.ID == "guide-plate" || o.ID == "S1" {
					list = append(list, o.Thing.String())
				}
			}
			return list
		}
		wantList(t, "before it is said", left(), []string{"S1 M6x1", "guide-plate"})
		up.do(walk.Command{Do: walk.Account, Target: "guide plate", Text: "worn out"})
		wantList(t, "the plate accounted for", left(), []string{"S1 M6x1"})
		up.do(walk.Command{Do: walk.Refit, Target: "S1"})
		wantList(t, "the bolt refitted", left(), nil)
	}
}

// What is named between walks at one of two places is off at that one, and the history
// says why it was named.
func TestWhatIsNamedAtAPlaceIsOffThere(t *testing.T) {
	strip := func(id, place string, at time.Time) Walk {
		w := begin(t, id, sheet(t, openSheet), at).on("", nil).done().walk()
		w.Place = place
		return w
	}
	walks := []Walk{strip("one", "front head", day), strip("two", "rear head", day.Add(time.Hour))}
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	e := fold("7", walks, nil, closers)
	l := ledger("l", day.Add(2*time.Hour), marked(t, e, Marking{New: true, Thing: "clip", Place: " Front head ", Kind: walk.Found, Facts: walk.Facts{walk.Box: "3"}, Because: "off the wiring"})...)
	e = fold("7", walks, []*record.File{l}, closers)
	if front, rear := brings(e.At("front head"), closers[0], "clip"), brings(e.At("rear head"), closers[0], "clip"); !front || rear {
		t.Errorf("brought to the front: %v, to the rear: %v", front, rear)
	}
	clip, err := e.thing("clip", "", Marking{}.fits)
	if err != nil || clip.Record != "one" || clip.Procedure != "Open the cover" {
		t.Errorf("came off in %q, %q, %v", clip.Record, clip.Procedure, err)
	}
	wantList(t, "said of it", linesOf(clip.Said), []string{"2025-03-02: off the wiring"})
	if got := e.Between(); len(got) != 1 || got[0].Text != "found, on no sheet: front head: clip: box 3 (off the wiring)" {
		t.Errorf("said %+v", got)
	}
}

// A thread found stripped at one of two places is told to the close walk there.
func TestAStrippedThreadIsToldAtItsPlace(t *testing.T) {
	w := begin(t, "one", sheet(t, openSheet), day).on("Take out/M2", nil).do(walk.Command{Do: walk.Problem, Text: "stripped", Facts: walk.Facts{walk.StrippedAt: walk.InCase}}).on("", nil).done().walk()
	w.Place = "front head"
	closer := sheet(t, closeSheet)
	e := fold("7", []Walk{w}, nil, []*spec.Procedure{closer})
	for _, c := range e.At("front head").Carried(closer) {
		if want := map[string]string{"M2": "one"}[c.ID]; c.Case != want {
			t.Errorf("%s is brought with a case stripped by %q, want %q", c.ID, c.Case, want)
		}
	}
	if len(e.At("front head").Carried(closer)) != 5 {
		t.Errorf("brought %+v", e.At("front head").Carried(closer))
	}
}

// What is said of a thing as it is named, how many there are and where it goes, holds of it.
func TestWhatIsSaidOfAThingAsItIsNamedHolds(t *testing.T) {
	for said, want := range map[string]int{"": 1, "3": 3, "0": 1, "-2": 1, "some": 1, "100000": 100_000, "100001": 1} {
		ev := walk.Event{Kind: walk.Found, Item: "part:clip", Facts: map[string]string{walk.NewName: "clip", walk.Goes: "plating", walk.NewCount: said}}
		e := fold("7", nil, []*record.File{ledger("l", day, ev)}, nil)
		if len(e.Off) != 1 || e.Off[0].Count != want || e.Off[0].Work != "plating" || e.Off[0].Record != "l" {
			t.Errorf("%q: %+v", said, e.Off)
		}
	}
}

// A thing that no strip-down met goes in before the part it is named with: of several the
// one with the longest name, and of those the first on the sheet.
func TestAThingGoesInBeforeThePartItIsNamedWith(t *testing.T) {
	p := sheet(t, closeSheet+"[[part]]\nname = \"washer\"\n[[part]]\nname = \"motor\"\n")
	for _, c := range []struct{ name, where, want string }{
		{"Thrust Washer spacer", "", "part:thrust-washer"},
		{"clip", "behind the rotor", "part:rotor"},
		{"rotor and motor key", "", "part:rotor"},
		{"motor key", "", "part:motor"},
		{"clip", "", ""},
		{"Shim", "behind the rotor", ""}, // another shim
	} {
		if got := namedWith(p, Thing{Name: c.name, Facts: walk.Facts{walk.Where: c.where}}); got != c.want {
			t.Errorf("%s %s goes in before %q, want %q", c.name, c.where, got, c.want)
		}
	}
}

// A sheet asks for what has no place in it if it shares anything with the strip-down, be
// it one part; one that shares nothing asks only for what was named before all of them. The
// same bolt with another thread is a difference and no stray.
func TestASheetAsksForStraysOfWhatItCloses(t *testing.T) {
	down := begin(t, "down", sheet(t, openSheet+plate), day).do(findNew("clip", nil)).on("", nil).done().walk()
	named := ledger("l", day.AddDate(0, -1, 0), marked(t, Engine{}, Marking{New: true, Thing: "key", Kind: walk.Found})...)
	apart := strings.NewReplacer(`"Close the cover"`, `"Close the lid"`, "M1", "Z1", "M2", "Z2", `"thrust washer"`, `"spacer"`, `name  = "shim"`, `name  = "thin shim"`, `"rotor"`, `"lamp"`).Replace(closeSheet)
	one := strings.Replace(apart, `"lamp"`, `"rotor"`, 1)
	finer := strings.Replace(closeSheet, "M8x1.25", "M8x1", 1)
	for name, c := range map[string]struct{ text, want string }{
		"shares nothing":     {apart, "key"},
		"shares one part":    {one, "M1 M2 clip guide-plate key rotor shim thrust-washer"},
		"has another thread": {finer, "clip guide-plate key rotor shim thrust-washer"},
	} {
		p := sheet(t, c.text)
		e := fold("7", []Walk{down}, []*record.File{named}, []*spec.Procedure{p})
		var got []string
		for _, b := range e.Carried(p) {
			got = append(got, b.ID)
		}
		slices.Sort(got)
		wantList(t, name, got, strings.Fields(c.want))
		if name == "has another thread" {
			wantList(t, "told", e.Differences(p), []string{"guide plate (guide-plate) is on the sheet of down and has no place here", "M1 is M8x1 here and was M8x1.25 in down", "M2 is M8x1 here and was M8x1.25 in down"})
		}
	}
}
