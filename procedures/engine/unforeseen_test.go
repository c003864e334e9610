package engine

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

func news(list []walk.Carried) string {
	var words []string
	for _, c := range list {
		if c.New {
			words = append(words, c.ID+" before "+c.Before)
		}
	}
	return strings.Join(words, ", ")
}

func findNew(name string, facts walk.Facts) walk.Command {
	return walk.Command{Do: walk.Find, New: name, Facts: facts}
}

// What no sheet foresaw is off from when it was found, and its close-up asks for
// it before what it came off with.
func TestWhatNoSheetHasIsBroughtToItsPlace(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	down := begin(t, "down", sheet(t, openSheet), day).
		do(findNew("odd clip", nil)).on("part:shim", nil).                                         // before anything came off
		do(findNew("thin ring", walk.Facts{walk.Box: "3"})).on("part:rotor", nil).                 // after the thrust washer
		do(findNew("spacer under the thrust washer", nil), findNew("key", nil)).on("", nil).done() // named with it; after the shims
	e := fold("7", []Walk{down.walk()}, nil, closers)
	if got, want := news(e.Carried(closers[0])), "odd-clip before , thin-ring before part:thrust-washer, spacer-under-the-thrust-washer before part:thrust-washer, key before part:shim"; got != want {
		t.Errorf("brought %s\nwant    %s", got, want)
	}
	bolts := begin(t, "bolts", sheet(t, openSheet), day).on("part:thrust-washer", nil).do(findNew("washer", nil)).on("", nil).done()
	if got := news(fold("7", []Walk{bolts.walk()}, nil, closers).Carried(closers[0])); got != "washer before M2" {
		t.Errorf("after the bolts: %s", got)
	}
	up := begin(t, "up", closers[0], day.AddDate(1, 0, 0)).bring(e).on("", nil).done()
	e = fold("7", []Walk{down.walk(), up.walk()}, nil, closers)
	if len(e.Off) > 0 {
		t.Errorf("after done off: %q", keys(e.Off))
	}
}

// What turned up in a close walk and has not been settled is off for the next.
func TestWhatTurnedUpAndWasLeftIsOff(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	up := begin(t, "up", closers[0], day).do(findNew("loose clip", walk.Facts{walk.Goes: "bead blasting"}))
	e := fold("7", []Walk{up.walk()}, nil, closers)
	wantList(t, "off", keys(e.Off), []string{"1 loose-clip"})
	if !e.Off[0].New || e.Off[0].Work != "bead blasting" || e.Off[0].Record != "up" {
		t.Errorf("%+v", e.Off[0])
	}
	up.do(walk.Command{Do: walk.Account, Target: "loose clip", Text: "off the wiring"})
	if e = fold("7", []Walk{up.walk()}, nil, closers); len(e.Off) > 0 {
		t.Errorf("settled, and still off: %q", keys(e.Off))
	}
}

func marked(t *testing.T, e Engine, m Marking) []walk.Event {
	t.Helper()
	events, err := e.Marked(m)
	if err != nil {
		t.Fatal(err)
	}
	return events
}

func TestAThingIsNamedAndSentBetweenWalks(t *testing.T) {
	down, closers := apart(t)
	e := fold("7", []Walk{down}, nil, closers)
	half := Marking{New: true, Thing: "upper case half", Kind: record.Sent, Work: "coating", To: "the coater"}
	l := ledger("l", day.Add(time.Hour), marked(t, e, half)...)
	e = fold("7", []Walk{down}, []*record.File{l}, closers)
	if len(e.Problems) > 0 {
		t.Error(e.Problems)
	}
	off, err := e.thing("Upper case half", "", Marking{}.fits)
	if err != nil || off.Work != "coating" || off.To != "the coater" || !off.New || off.Record != "down" {
		t.Fatalf("%+v, %v", off, err)
	}
	if got := news(e.Carried(closers[0])); got != "upper-case-half before " {
		t.Errorf("brought %s", got)
	}
	for _, m := range []Marking{half, {New: true, Thing: "rotor", Kind: walk.Found}, {New: true, Thing: " ", Kind: walk.Found}, {New: true, Thing: "x", Kind: record.Gone}, {New: true, Thing: "x", Kind: record.Sent}} {
		if _, err := e.Marked(m); err == nil {
			t.Errorf("%+v is taken", m)
		}
	}
	// One whose id is that of a part that is off gets one of its own.
	if ev := marked(t, e, Marking{New: true, Thing: "Upper Case-Half", Kind: walk.Found, Facts: walk.Facts{walk.Box: "2"}}); ev[0].Item != "part:upper-case-half-2" || ev[0].Facts[walk.Box] != "2" {
		t.Errorf("%+v", ev)
	}
	// Said before anything was taken apart, whoever closes the engine asks.
	e = fold("7", nil, []*record.File{l}, closers)
	if got := news(e.Carried(closers[0])); got != "upper-case-half before " {
		t.Errorf("without a strip-down brought %s", got)
	}
}

// Two machines gave two things one name: both are kept, and each can be settled.
func TestTwoThingsOfOneNameAreKeptApart(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	strip := func(id string, at time.Time) Walk {
		return begin(t, id, sheet(t, openSheet), at).on("part:shim", nil).do(findNew("clip", nil)).walk()
	}
	walks := []Walk{strip("one", day), strip("two", day.Add(time.Hour))}
	e := fold("7", walks, nil, closers)
	list := e.Carried(closers[0])
	if got := news(list); got != "clip before part:thrust-washer, clip@two before part:thrust-washer" {
		t.Fatalf("brought %s", got)
	}
	for _, at := range []time.Time{day.AddDate(1, 0, 0), day.AddDate(-1, 0, 0)} {
		up := begin(t, "up", closers[0], at).bring(e).do(walk.Command{Do: walk.Account, Target: "clip@two", Text: "spare"})
		left := fold("7", append(walks, up.walk()), nil, closers)
		var clips []string
		for _, o := range left.Off {
			if o.New {
				clips = append(clips, o.ID)
			}
		}
		wantList(t, "left", clips, []string{"clip"})
		up.do(walk.Command{Do: walk.Account, Target: "clip", Text: "spare"})
		for _, o := range fold("7", append(walks, up.walk()), nil, closers).Off {
			if o.New {
				t.Errorf("both settled by a walk of %s, and %s is off", at, o.ID)
			}
		}
	}
	sheets := ledger("l", day, marked(t, Engine{}, Marking{New: true, Thing: "rotor", Kind: walk.Found})...)
	e = fold("7", []Walk{begin(t, "three", sheet(t, openSheet), day.AddDate(0, 1, 0)).on("", nil).done().walk()}, []*record.File{sheets}, closers)
	for _, id := range []string{"rotor", "rotor@l"} {
		if _, err := e.thing(id, "", Marking{}.fits); err != nil {
			t.Error(err)
		}
	}
	if got := ident.Part("rotor@l"); news(e.Carried(closers[0])) != "rotor@l before " {
		t.Errorf("%v: brought %s", got, news(e.Carried(closers[0])))
	}
}
