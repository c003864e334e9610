package report

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/xml"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

var start = time.Date(2026, 11, 25, 9, 0, 0, 0, time.FixedZone("", 3600))

// bench is a walk being walked by a test, a minute a command.
type bench struct {
	t    *testing.T
	live *walk.Live
	now  time.Time
	text []byte
}

func newBench(t *testing.T, text []byte) *bench {
	t.Helper()
	p, problems := read.Procedure("cover.toml", text)
	if p == nil {
		t.Fatalf("the test's procedure does not read:\n%v", problems)
	}
	b := &bench{t: t, now: start, text: text}
	b.live = &walk.Live{State: walk.New(plan.Of(p)), Now: func() time.Time { return b.now }, Append: func(walk.Event) error { return nil }}
	return b
}

func coverBench(t *testing.T) *bench {
	t.Helper()
	text, err := os.ReadFile("testdata/cover.toml")
	if err != nil {
		t.Fatal(err)
	}
	return newBench(t, text)
}

func (b *bench) do(c walk.Command) *walk.Refusal {
	b.t.Helper()
	b.now = b.now.Add(30 * time.Second)
	refusal, err := b.live.Do(c)
	if err != nil {
		b.t.Fatal(err)
	}
	return refusal
}

// must carries out a command that has to be accepted.
func (b *bench) must(c walk.Command) {
	b.t.Helper()
	if r := b.do(c); r != nil {
		b.t.Fatalf("%+v was refused: %s", c, r)
	}
}

// upTo confirms what comes next until the item called key is in hand.
func (b *bench) upTo(key string) {
	b.t.Helper()
	for it := b.live.State.CurrentItem(); it != nil && it.Key().String() != key; it = b.live.State.CurrentItem() {
		if len(b.live.State.DueNow()) > 0 {
			b.must(walk.Command{Do: walk.Renew, Number: walk.NoNumber})
		}
		c := walk.Command{Do: walk.Confirm}
		switch it.Kind {
		case walk.StageItem:
			if it.Stage.Action == spec.Stretch {
				c.Reading = walk.WindowOf(it.Stage).Example()
			}
		case walk.MeasureItem:
			c = walk.Command{Do: walk.Measure, Reading: it.Check.Max.String()}
		case walk.AskItem:
			c.Do = walk.Yes
		case walk.WaitItem:
			b.now = b.now.Add(it.Pass.Wait)
		}
		b.must(c)
	}
}

func (b *bench) sheet(engine string) Sheet {
	sum := sha256.Sum256(b.text)
	return New(Input{ID: "2026-11-25-4-1", Engine: engine, Source: "cover.toml", SHA256: hex.EncodeToString(sum[:]), Program: "test", Closing: strings.Repeat("0123456789abcdef", 4), Started: start, Whole: true, State: b.live.State, Now: b.now})
}

// eventful is the cover closed with everything that can go other than straight.
func eventful(t *testing.T) *bench {
	b := coverBench(t)
	b.upTo("Draw down/R1")
	b.must(walk.Command{Do: walk.Note, Target: walk.Whole, Text: "phone rang"})
	b.must(walk.Command{Do: walk.Confirm, Reading: "3.6 N·m", Facts: map[string]string{"wrench": "small click"}})
	b.do(walk.Command{Do: walk.FinishUp}) // refused
	b.upTo("Final/R1")
	b.do(walk.Command{Do: walk.Confirm, Reading: "11 N·m"}) // over: R1 starts again
	b.upTo("Final/R2")
	b.must(walk.Command{Do: walk.Undo, Text: "wrong socket"})
	b.upTo("Final/N1")
	b.must(walk.Command{Do: walk.Renew, Target: "N1", Number: "batch 7"})
	b.upTo("Final/F1")
	b.must(walk.Command{Do: walk.Renew, Target: "F1", Number: "380-11-112"})
	b.upTo("Again/R2/3")
	b.must(walk.Command{Do: walk.Lose, Text: "socket slipped"})
	return b
}

func finished(t *testing.T) *bench {
	b := eventful(t)
	b.upTo("")
	b.must(walk.Command{Do: walk.FinishUp})
	return b
}

func contains(t *testing.T, where, text string, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(text, want) {
			t.Errorf("%s lacks %q in:\n%s", where, want, text)
		}
	}
}

// wellFormed reads a text as XML to its end.
func wellFormed(t interface{ Errorf(string, ...any) }, name, text string) {
	dec := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := dec.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Errorf("%s is not well-formed: %v", name, err)
			return
		}
	}
}
