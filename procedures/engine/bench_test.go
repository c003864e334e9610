package engine

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// BenchmarkOverviewAgainstReading prints what listing 500 engines with 20 records
// and a ledger each costs against reading the same files once, in turn.
func BenchmarkOverviewAgainstReading(b *testing.B) {
	s, err := record.Open(filepath.Join(b.TempDir(), "records"), func() time.Time { return day })
	if err != nil {
		b.Fatal(err)
	}
	if err := os.Mkdir(s.Dir, 0o755); err != nil {
		b.Fatal(err)
	}
	off := begin(b, "", bundled(b, "flywheel-off"), day).on("", nil)
	on := begin(b, "", bundled(b, "flywheel-nut"), day).on("", nil).done()
	left := begin(b, "", bundled(b, "flywheel-off"), day).on("Off/N1", nil)
	for tag := range 500 {
		naming := []walk.Event{{Seq: 1, At: day, Kind: record.Named, Text: "invented"}}
		put(b, s.Dir, fmt.Sprintf("engine-%d.ledger", tag), record.Header{Ledger: true, Engine: fmt.Sprint(tag)}, naming)
		for n := range 20 {
			w := []*walked{off, on}[n%2]
			if n == 19 {
				w = left
			}
			h := record.NewHeader(w.proc, w.proc.File, fmt.Sprint(tag), "test", day.AddDate(0, n, 0))
			h.SHA256 = record.TextHash(w.proc.Text)
			put(b, s.Dir, fmt.Sprintf("walk-%d-%d.jsonl", tag, n), h, w.live.State.Events)
		}
	}
	files, err := filepath.Glob(filepath.Join(s.Dir, "*"))
	if err != nil || len(files) != 500*21 {
		b.Fatal(len(files), err)
	}
	var ours, theirs time.Duration
	for b.Loop() {
		from := time.Now()
		list, err := s.List()
		if err != nil {
			b.Fatal(err)
		}
		ledgers, _, err := s.Ledgers()
		if all := Overview(list, ledgers); err != nil || len(all) != 500 || all[0].Records != 20 || all[0].Broken > 0 {
			b.Fatal(len(all), all[0], err)
		}
		between := time.Now()
		for _, f := range files {
			if _, err := os.ReadFile(f); err != nil {
				b.Fatal(err)
			}
		}
		ours, theirs = ours+between.Sub(from), theirs+time.Since(between)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×reading")
}

// put writes a file of events as another program might: by the contract of the
// format alone, and without syncing.
func put(b *testing.B, dir, name string, h record.Header, events []walk.Event) {
	b.Helper()
	h.Format = record.FormatVersion
	line := summed(b, h)
	var all bytes.Buffer
	all.Write(append(line, '\n'))
	for _, e := range events {
		prev := fmt.Sprintf("%x", sha256.Sum256(line))
		line = summed(b, struct {
			walk.Event
			Prev string `json:"prev"`
		}{e, prev})
		all.Write(append(line, '\n'))
	}
	if err := os.WriteFile(filepath.Join(dir, name), all.Bytes(), 0o644); err != nil {
		b.Fatal(err)
	}
}

// summed is a line with the sum of its own bytes at its end.
func summed(b *testing.B, v any) []byte {
	line, err := json.Marshal(v)
	if err != nil {
		b.Fatal(err)
	}
	line = line[:len(line)-1]
	return fmt.Appendf(line, `,"sum":"%x"}`, sha256.Sum256(line))
}

// BenchmarkOneEngine prints what folding one engine with 20 walks costs.
func BenchmarkOneEngine(b *testing.B) {
	var walks []Walk
	for n := range 20 {
		name := []string{"flywheel-off", "flywheel-nut"}[n%2]
		walks = append(walks, begin(b, fmt.Sprint(n), bundled(b, name), day.AddDate(0, n, 0)).on("", nil).walk())
	}
	for b.Loop() {
		if e := fold("7", walks, nil, nil); len(e.Walks) != 20 {
			b.Fatal(len(e.Walks))
		}
	}
}
