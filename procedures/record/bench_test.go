package record

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
)

// BenchmarkAppendAgainstBareSync prints what an Append costs against one write
// and one sync of as many bytes, the two done in turn.
func BenchmarkAppendAgainstBareSync(b *testing.B) {
	w := create(b, newStore(b), "2")
	defer w.Close()
	bare, err := os.OpenFile(filepath.Join(b.TempDir(), "bare"), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		b.Fatal(err)
	}
	defer bare.Close()
	e := walk.Event{At: started, Kind: walk.Confirmed, Item: "Final/M12", Reading: "22.4 N·m"}
	line, err := encodeLine(eventLine{e, strings.Repeat("0", hexLen)})
	if err != nil {
		b.Fatal(err)
	}
	var ours, theirs time.Duration
	for b.Loop() {
		e.Seq++
		from := time.Now()
		if err := w.Append(e); err != nil {
			b.Fatal(err)
		}
		between := time.Now()
		if _, err := bare.Write(append(line, '\n')); err != nil {
			b.Fatal(err)
		}
		if err := bare.Sync(); err != nil {
			b.Fatal(err)
		}
		ours, theirs = ours+between.Sub(from), theirs+time.Since(between)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×bare-sync")
}

// BenchmarkListAgainstReading prints what listing 500 engines with 20 records
// each costs against reading the same files once, the two done in turn.
func BenchmarkListAgainstReading(b *testing.B) {
	s := newStore(b)
	done := readFile(b, finished(b, s, "0"))
	w := create(b, s, "1")
	forward(b, walking(b, w), 5)
	closeWriter(b, w)
	open := readFile(b, w.Path)
	for engine := range 500 {
		for n := range 20 {
			data := done
			if n == 0 {
				data = open
			}
			writeFile(b, s.Path(fmt.Sprintf("2026-11-25-%d-%d", engine, n)), data)
		}
	}
	var ours, theirs time.Duration
	for b.Loop() {
		from := time.Now()
		list, err := s.List()
		if err != nil || len(list) != 10_002 {
			b.Fatal(len(list), err)
		}
		between := time.Now()
		ids, err := s.ids()
		if err != nil {
			b.Fatal(err)
		}
		for _, id := range ids {
			if _, err := os.ReadFile(s.Path(id)); err != nil {
				b.Fatal(err)
			}
		}
		ours, theirs = ours+between.Sub(from), theirs+time.Since(between)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×reading")
}

// longRecord writes a walk of so many stages without syncing each.
func longRecord(b *testing.B, stages int) string {
	b.Helper()
	var t strings.Builder
	t.WriteString("format = 1\n[procedure]\nname = \"Long\"\ndirection = \"close\"\nsource = \"invented\"\n[group.g]\nthread = \"M8x1.25\"\nclass = \"8.8\"\ntorque = \"22 N·m\"\n[group.g.at]\n")
	for i := range stages {
		fmt.Fprintf(&t, "B%d = [%d, %d]\n", i, i%100*20, i/100*20)
	}
	t.WriteString("[[pass]]\nname = \"Final\"\ngroups = [\"g\"]\ntorque = \"100 %\"\norder = \"listed\"\n")
	p := procedureOf(b, t.String())
	s := newStore(b)
	w, err := s.Create(NewHeader(p, "long.toml", "2", "test", started))
	if err != nil {
		b.Fatal(err)
	}
	w.file = unsynced{w.file}
	l := walk.Live{State: walk.New(plan.Of(p)), Now: clock(), Append: w.Append}
	forward(b, &l, stages)
	closeWriter(b, w)
	return w.Path
}

type unsynced struct{ appendFile }

func (unsynced) Sync() error { return nil }
