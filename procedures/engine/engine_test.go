package engine

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

var found = map[string]walk.Facts{
	"M2":                 {walk.Condition: "stretched", walk.Box: "1"},
	"part:thrust-washer": {walk.Condition: "missing"},
	"part:shim":          {walk.Condition: "good", walk.Size: "0.8 mm"},
	"part:rotor":         {walk.Condition: "good", walk.Goes: "balancing"},
}

// apart is the engine after a whole strip-down.
func apart(t testing.TB) (Walk, []*spec.Procedure) {
	return begin(t, "down", sheet(t, openSheet), day).on("", found).done().walk(), []*spec.Procedure{sheet(t, closeSheet)}
}

func TestAThingIsOffOnceConfirmedOutAndBackOnceConfirmedIn(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	half := begin(t, "down", sheet(t, openSheet), day).on("part:shim", found)
	e := fold("7", []Walk{half.walk()}, nil, closers)
	wantList(t, "off half way", keys(e.Off), []string{"1 M1 M8x1.25", "1 M2 M8x1.25", "1 thrust-washer"})
	down := half.on("", found).done().walk()
	e = fold("7", []Walk{down}, nil, closers)
	wantList(t, "off", keys(e.Off), []string{"1 M1 M8x1.25", "1 M2 M8x1.25", "1 rotor", "1 thrust-washer", "2 shim"})
	if strings.Join(e.ToClose, " ") != "close-the-cover" {
		t.Errorf("to close: %q", e.ToClose)
	}
	back := ledger("l", day.Add(time.Hour), walk.Event{Kind: record.Back, Item: "part:rotor"}, walk.Event{Kind: walk.Cleaned, Item: "part:rotor"})
	e = fold("7", []Walk{down}, []*record.File{back}, closers)
	up := begin(t, "up", closers[0], day.AddDate(1, 0, 0)).bring(e).on("Final/M2", nil)
	e = fold("7", []Walk{down, up.walk()}, []*record.File{back}, closers)
	wantList(t, "off while closing", keys(e.Off), []string{"1 M2 M8x1.25", "1 thrust-washer"})
	up.on("", nil).done()
	e = fold("7", []Walk{down, up.walk()}, []*record.File{back}, closers)
	if len(e.Problems) > 0 { // what was marked while it was off stays right once it is back
		t.Errorf("after done: %q", e.Problems)
	}
	if len(e.Off) > 0 || len(e.Buy) > 0 || len(e.ToClose) > 0 {
		t.Errorf("after done: off %q, buy %q, to close %q", keys(e.Off), rows(e), e.ToClose)
	}
	if h := e.Headline(day.AddDate(1, 0, 3)); !strings.Contains(h, "last: Close the cover done, 2026-03-02 (2 days ago); next: nothing is off") {
		t.Error(h)
	}
}

func TestTheListToOrderCountsEachPieceOnceAndWhatArrived(t *testing.T) {
	down, closers := apart(t)
	e := fold("7", []Walk{down}, nil, closers)
	wantList(t, "to buy", rows(e), []string{"0/1 cover bolts M8x1.25 125-01", "0/1 cover gasket 125-40", "0/4 sealing washer 125-12", "0/1 thrust washer 125-31"})
	// A second procedure that wants the same pieces adds nothing.
	again := sheet(t, strings.Replace(closeSheet, `"Close the cover"`, `"Close it once more"`, 1))
	e = fold("7", []Walk{down}, nil, append(closers, again))
	wantList(t, "to buy with two sheets", rows(e), []string{"0/1 cover bolts M8x1.25 125-01", "0/1 cover gasket 125-40", "0/4 sealing washer 125-12", "0/1 thrust washer 125-31"})
	// Nor does one of another engine, whatever its ids.
	other := sheet(t, strings.NewReplacer("Osier 125 single", "Osier 250 single", "cover gasket", "head gasket").Replace(closeSheet))
	e = fold("7", []Walk{down}, nil, append(closers, other))
	if len(e.Buy) != 4 || len(e.ToClose) != 1 {
		t.Errorf("another engine's sheet counts: %q", rows(e))
	}
	ev, err := e.Mark(Marking{Thing: "125-12", Kind: record.Arrived, Count: 3})
	if err != nil {
		t.Fatal(err)
	}
	l := ledger("l", day.Add(time.Hour), ev)
	e = fold("7", []Walk{down}, []*record.File{l}, closers)
	wantList(t, "to buy", rows(e), []string{"0/1 cover bolts M8x1.25 125-01", "0/1 cover gasket 125-40", "3/4 sealing washer 125-12", "0/1 thrust washer 125-31"})
}

func TestWhatArrivedIsUsedUpByAWalkAndNotCountedAtTheNextOne(t *testing.T) {
	down, closers := apart(t)
	l := ledger("l", day.Add(time.Hour), walk.Event{Kind: record.Arrived, Piece: "cover gasket", Facts: map[string]string{"count": "1", "number": "125-40"}},
		walk.Event{Kind: record.Back, Item: "part:rotor"}, walk.Event{Kind: walk.Cleaned, Item: "part:rotor"})
	e := fold("7", []Walk{down}, []*record.File{l}, closers)
	up := begin(t, "up", closers[0], day.AddDate(0, 1, 0)).bring(e).on("", nil).done().walk()
	next := begin(t, "next", sheet(t, openSheet), day.AddDate(1, 0, 0)).on("", nil).done().walk()
	e = fold("7", []Walk{down, up, next}, []*record.File{l}, closers)
	for _, b := range e.Buy {
		if b.Arrived > 0 {
			t.Errorf("%s arrived for the last time round counts again", b.Name)
		}
	}
	if len(e.Renewals) != 5 { // two bolts' washers, bolt, washer, gasket
		t.Errorf("renewed: %+v", e.Renewals)
	}
}

func TestWorkGoesFromToSendOverSentAndBackToCleaned(t *testing.T) {
	down, closers := apart(t)
	step := func(kind walk.Kind, text string) walk.Event {
		return walk.Event{Kind: kind, Item: "part:rotor", Text: text}
	}
	cases := []struct {
		events        []walk.Event
		work, unclean string
		sent          bool
	}{
		{nil, "balancing", "", false},
		{[]walk.Event{step(record.Sent, "balancing")}, "balancing", "", true},
		{[]walk.Event{step(record.Sent, "balancing"), step(record.Back, "")}, "", "balancing", false},
		{[]walk.Event{step(record.Sent, "balancing"), step(record.Back, ""), step(walk.Cleaned, "")}, "", "", false},
		{[]walk.Event{step(record.Sent, "balancing"), step(record.Back, ""), step(record.Sent, "coating")}, "coating", "", true},
	}
	for i, c := range cases {
		e := fold("7", []Walk{down}, []*record.File{ledger("l", day.Add(time.Hour), c.events...)}, closers)
		rotor, err := e.thing("rotor", "", Marking{}.fits)
		if err != nil || rotor.Work != c.work || rotor.Unclean != c.unclean || (rotor.Sent != nil) != c.sent {
			t.Errorf("case %d: %+v, %v", i, rotor, err)
		}
		for _, b := range e.Carried(closers[0]) {
			if b.ID == "rotor" && (b.Away != c.work || b.Unclean != c.unclean) {
				t.Errorf("case %d: brought as %+v", i, b)
			}
		}
	}
}

func TestAStripDownIsCorrectedWithoutBeingRewritten(t *testing.T) {
	down, closers := apart(t)
	before := down.State.FoundOf(ident.Fastener("M2", "M8x1.25")).Text()
	e := fold("7", []Walk{down}, nil, closers)
	ev, err := e.Mark(Marking{Thing: "M2", Kind: record.Corrected, Facts: walk.Facts{walk.Condition: "good"}, Because: "the straightedge was bent"})
	if err != nil {
		t.Fatal(err)
	}
	e = fold("7", []Walk{down}, []*record.File{ledger("l", day.Add(time.Hour), ev)}, closers)
	m2, _ := e.thing("M2", "", Marking{}.fits)
	if m2.Condemned() || m2.Facts[walk.Box] != "1" || len(e.Buy) != 3 {
		t.Errorf("after correction: %+v, buy %q", m2, rows(e))
	}
	if now := down.State.FoundOf(ident.Fastener("M2", "M8x1.25")).Text(); now != before {
		t.Errorf("the strip-down now says %q, was %q", now, before)
	}
}

func TestMarksThatMakeNoSenseAreRefusedWithAWayOut(t *testing.T) {
	down, closers := apart(t)
	e := fold("7", []Walk{down}, nil, closers)
	cases := []struct {
		m    Marking
		want string
	}{
		{Marking{Thing: "shim", Kind: record.Back}, "send it first"},
		{Marking{Thing: "shim", Kind: walk.Cleaned}, "does not wait to be cleaned"},
		{Marking{Thing: "rotor", Kind: walk.Cleaned}, "mark it back first"},
		{Marking{Thing: "shim", Kind: record.Sent}, "write: sent balancing"},
		{Marking{Thing: "shim", Kind: record.Sent, Work: "back"}, "is no work"},
		{Marking{Thing: "dowel", Kind: record.Sent, Work: "coating"}, "is not off engine 7"},
		{Marking{Thing: "cover bolts M8x1.25", Kind: record.Sent, Work: "plating"}, `could be "M1 M8x1.25", "M2 M8x1.25"`},
		{Marking{Thing: "shim", Kind: record.Arrived}, "not on the list to order"},
		{Marking{Thing: "M2", Kind: record.Arrived}, `could be "cover bolts M8x1.25", "sealing washer"`},
		{Marking{Thing: "cover gasket", Kind: record.Arrived, Count: 2}, "1 are still to come"},
		{Marking{Thing: "cover gasket", Kind: record.Arrived, Count: -1}, "cannot have arrived"},
		{Marking{Thing: "shim", Kind: record.Corrected, Facts: walk.Facts{walk.Condition: "bent"}, Because: "x"}, "is it to be used again"},
		{Marking{Thing: "shim", Kind: record.Corrected, Facts: walk.Facts{walk.Condition: "worn"}}, "needs a reason"},
		{Marking{Thing: "shim", Kind: record.Gone}, "needs a reason"},
		{Marking{Thing: "shim", Kind: "eaten"}, "no mark"},
	}
	for _, c := range cases {
		if _, err := e.Mark(c.m); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: got %v, want %q", c.m, err, c.want)
		}
	}
}

func TestATagOfAnotherEngineIsRefusedUnlessAReasonSaysItIsTheSame(t *testing.T) {
	one := ledger("one", day, walk.Event{Kind: record.Named, Text: "Blue"})
	e := fold(" 7", nil, []*record.File{one}, nil)
	if err := e.CheckName("Red", ""); err == nil || !strings.Contains(err.Error(), "another tag") || !strings.Contains(err.Error(), "--because") {
		t.Errorf("got %v", err)
	}
	if e.CheckName("Blue", "") != nil || e.CheckName("Red", "painted") != nil || e.CheckName(" ", "x") == nil {
		t.Error("the same name or a reason must do, an empty name must not")
	}
	two := ledger("two", day.Add(time.Hour), walk.Event{Kind: record.Named, Text: "Red"})
	e = fold("7", nil, []*record.File{two, one}, nil)
	if e.Name != "Red" || len(e.Problems) != 1 || !strings.Contains(e.Problems[0], "two engines may share the tag 7: Blue and Red") {
		t.Errorf("two ledgers of two names: %q, %q", e.Name, e.Problems)
	}
	settled := ledger("one", day, walk.Event{Kind: record.Named, Text: "Blue"}, walk.Event{Kind: record.Named, At: day.AddDate(0, 0, 9), Text: "Red", Facts: map[string]string{"because": "painted"}})
	if e = fold("7", nil, []*record.File{settled, two}, nil); len(e.Problems) > 0 {
		t.Errorf("settled, and still: %q", e.Problems)
	}
}

// Whichever of the clocks of two machines runs late: a close walk names the
// strip-down its things came from.
func TestAClockSetBackDoesNotTakeThingsOffAgain(t *testing.T) {
	down, closers := apart(t)
	l := ledger("l", day.Add(time.Hour), walk.Event{Kind: record.Back, Item: "part:rotor"}, walk.Event{Kind: walk.Cleaned, Item: "part:rotor"})
	e := fold("7", []Walk{down}, []*record.File{l}, closers)
	up := begin(t, "up", closers[0], time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)).bring(e).on("", nil).done().walk()
	e = fold("7", []Walk{up, down}, nil, closers)
	wantList(t, "off", keys(e.Off), []string{})
}

func TestMoreThanGoesInIsLeftOverUntilAccountedFor(t *testing.T) {
	down, _ := apart(t)
	one := sheet(t, strings.Replace(closeSheet, "kind  = \"shim\"\ncount = 2", "kind  = \"shim\"\ncount = 1", 1))
	l := ledger("l", day.Add(time.Hour), walk.Event{Kind: record.Back, Item: "part:rotor"}, walk.Event{Kind: walk.Cleaned, Item: "part:rotor"})
	closers := []*spec.Procedure{one}
	e := fold("7", []Walk{down}, []*record.File{l}, closers)
	up := begin(t, "up", one, day.AddDate(0, 1, 0)).bring(e).on("", nil)
	up.refused(walk.Command{Do: walk.FinishUp}, "1 outstanding")
	e = fold("7", []Walk{down, up.walk()}, []*record.File{l}, closers)
	wantList(t, "off", keys(e.Off), []string{"1 shim"})
	up.do(walk.Command{Do: walk.Account, Target: "shim", Text: "one shim does now"}).done()
	e = fold("7", []Walk{down, up.walk()}, []*record.File{l}, closers)
	wantList(t, "off", keys(e.Off), []string{})
}

func TestWhatHasNoPlaceIsBroughtToTheProcedureThatClosesItsStripDown(t *testing.T) {
	old := sheet(t, openSheet+"[[part]]\nname = \"guide plate\"\n")
	down := begin(t, "down", old, day).on("", nil).done().walk()
	closer := sheet(t, closeSheet)
	little := sheet(t, strings.NewReplacer(`"Close the cover"`, `"Fit the rotor"`, "M1", "Z1", "M2", "Z2", `"thrust washer"`, `"spacer"`).Replace(closeSheet))
	e := fold("7", []Walk{down}, nil, []*spec.Procedure{little, closer})
	has := func(p *spec.Procedure) bool {
		for _, c := range e.Carried(p) {
			if c.ID == "guide-plate" {
				return true
			}
		}
		return false
	}
	if !has(closer) || has(little) {
		t.Errorf("brought to the cover: %v, to the rotor: %v", has(closer), has(little))
	}
	diff := strings.Join(e.Differences(closer), "\n")
	if !strings.Contains(diff, "guide plate (guide-plate) is on the sheet of down and has no place here") {
		t.Errorf("differences: %s", diff)
	}
	up := begin(t, "up", closer, day.AddDate(0, 1, 0)).bring(e).on("", nil)
	up.refused(walk.Command{Do: walk.FinishUp}, "1 outstanding")
	up.do(walk.Command{Do: walk.Refit, Target: "guide plate"}).done()
	if e = fold("7", []Walk{up.walk(), down}, nil, []*spec.Procedure{closer}); len(e.Off) > 0 {
		t.Errorf("off: %q", keys(e.Off))
	}
}

func TestBundledProceduresOpenAndCloseTheSameThings(t *testing.T) {
	var closers []*spec.Procedure
	var walks []Walk
	for i, name := range procedures.Bundled() {
		p := bundled(t, name)
		if p.Direction == spec.Close {
			closers = append(closers, p)
			continue
		}
		w := begin(t, name, p, day.AddDate(0, 0, i))
		walks = append(walks, w.walk())
	}
	e := fold("7", walks, nil, closers)
	for _, p := range closers {
		if p.Engine != "Osier 380 parallel twin" {
			continue
		}
		if len(e.StripDowns(p)) == 0 {
			t.Errorf("%s: nothing opens what it closes", p.File)
		}
		for _, d := range e.Differences(p) {
			t.Errorf("%s: %s", p.File, d)
		}
	}
}

// The bundled procedures of one engine are a connected whole: everything one of
// them takes off, another puts back, and nothing is left lying.
func TestTheBundledEngineComesApartAndGoesTogetherWithNothingLeft(t *testing.T) {
	var closers []*spec.Procedure
	var walks []Walk
	now := day
	for _, name := range procedures.Bundled() {
		p := bundled(t, name)
		if p.Engine != "Osier 380 parallel twin" {
			continue
		}
		if p.Direction == spec.Close {
			closers = append(closers, p)
			continue
		}
		now = now.AddDate(0, 0, 1)
		walks = append(walks, begin(t, name, p, now).on("", nil).done().walk())
	}
	e := fold("7", walks, nil, closers)
	if len(e.Off) < 80 || len(e.ToClose) != len(closers) || len(e.Buy) == 0 {
		t.Fatalf("%d off, to close %q, %d to buy", len(e.Off), e.ToClose, len(e.Buy))
	}
	for _, p := range closers {
		now = now.AddDate(0, 1, 0)
		e = fold("7", walks, nil, closers)
		if p.File != "head-retorque" && len(e.Carried(p)) == 0 {
			t.Errorf("%s: nothing is brought", p.File)
		}
		walks = append(walks, begin(t, p.File, p, now).bring(e).on("", nil).done().walk())
	}
	e = fold("7", walks, nil, closers)
	if len(e.Off)+len(e.Buy)+len(e.Problems) > 0 {
		t.Errorf("after closing all: off %q, to buy %q, to sort out %q", keys(e.Off), rows(e), e.Problems)
	}
}

func TestLastTimesFiguresAreKept(t *testing.T) {
	down, closers := apart(t)
	up := begin(t, "up", closers[0], day.AddDate(0, 1, 0)).on("", nil).done().walk()
	later := begin(t, "later", closers[0], day.AddDate(0, 2, 0)).on("check:shaft-end-float", nil).do(walk.Command{Do: walk.Measure, Reading: "0.14 mm"}).walk()
	e := fold("7", []Walk{later, up, down}, nil, closers)
	if r := e.Last["check:shaft-end-float"]; r.Text != "0.14 mm" || r.Record != "later" {
		t.Errorf("last float: %+v", r)
	}
	if r := e.Last["part:shim"]; r.Text != "0.8 mm" {
		t.Errorf("last shim: %+v", r)
	}
}

func TestTapeUsedAgainForAnotherEngineIsRefusedWithAWayOut(t *testing.T) {
	down, closers := apart(t)
	other := sheet(t, strings.Replace(closeSheet, "Osier 125 single", "Osier 250 single", 1))
	e := fold("7", []Walk{down}, nil, closers)
	if err := e.CheckModel(closers[0]); err != nil {
		t.Errorf("its own sheet: %v", err)
	}
	if err := e.CheckModel(other); err == nil || !strings.Contains(err.Error(), "choose another tag") || !strings.Contains(err.Error(), "--also") {
		t.Errorf("another engine's sheet: got %v", err)
	}
	up := begin(t, "up", other, day.AddDate(0, 0, 1)).walk()
	if e = fold("7", []Walk{down, up}, nil, closers); len(e.Problems) != 1 || !strings.Contains(e.Problems[0], "sheets of two engines") {
		t.Errorf("merged folders: %q", e.Problems)
	}
	same := ledger("l", day, AlsoCalled("osier 250 SINGLE"))
	if e = fold("7", []Walk{down, up}, []*record.File{same}, closers); len(e.Problems) > 0 || e.CheckModel(other) != nil || len(e.Carried(other)) != 5 {
		t.Errorf("said to be one engine: %q, %d brought", e.Problems, len(e.Carried(other)))
	}
}

// What an open walk let go and did not take out is brought as loose, until a
// close walk tightens it.
func TestWhatWasLetGoIsBroughtAsLoose(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	twice := strings.Replace(openSheet, "[[pass]]\n", "[[pass]]\nname = \"Let go\"\ngroups = [\"main\"]\nloosen = \"90°\"\n[[pass]]\n", 1)
	down := begin(t, "down", sheet(t, twice), day).on("Take out/M1", nil)
	e := fold("7", []Walk{down.walk()}, nil, closers)
	loose := func(e Engine) (ids []string) {
		for _, c := range e.Carried(closers[0]) {
			if c.Loose {
				ids = append(ids, c.ID)
			}
		}
		return ids
	}
	wantList(t, "loose", loose(e), []string{"M1", "M2"})
	down.on("Take out/M2", nil)
	wantList(t, "loose", loose(fold("7", []Walk{down.walk()}, nil, closers)), []string{"M2"})
	down.on("", nil)
	if got := loose(fold("7", []Walk{down.walk()}, nil, closers)); len(got) > 0 {
		t.Errorf("taken out, and still loose: %v", got)
	}
}
