package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"testing"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec/growth"
)

// many is a folder of so many records of 500 engines, one in twenty open.
func many(b *testing.B, n int) *Store {
	s := newStore(b)
	done := readFile(b, finished(b, s, "0"))
	w := create(b, s, "1")
	forward(b, walking(b, w), 5)
	closeWriter(b, w)
	open := readFile(b, w.Path)
	for i := range n - 2 {
		data := done
		if i%20 == 0 {
			data = open
		}
		writeFile(b, s.Path(fmt.Sprintf("2026-11-25-%d-%d", i%500, i/500)), data)
	}
	return s
}

var folders = []int{125, 500, 2_000, 8_000}

// BenchmarkGrowthOfList lists so many records, each replayed.
func BenchmarkGrowthOfList(b *testing.B) {
	growth.Exponent(b, folders, func(n int) func() {
		s := many(b, n)
		return func() {
			if list, err := s.List(); err != nil || len(list) != n {
				b.Fatal(len(list), err)
			}
		}
	})
}

// BenchmarkGrowthOfSearch looks for a word that no record has.
func BenchmarkGrowthOfSearch(b *testing.B) {
	growth.Exponent(b, folders, func(n int) func() {
		s := many(b, n)
		return func() {
			if list, err := s.Search(Filter{Word: "zinc"}); err != nil || len(list) > 0 {
				b.Fatal(len(list), err)
			}
		}
	})
}

// BenchmarkGrowthOfReplay reads and replays a record of so many stages.
func BenchmarkGrowthOfReplay(b *testing.B) {
	growth.Exponent(b, []int{150, 600, 2_400, 9_600}, func(n int) func() {
		path := longRecord(b, n)
		return func() {
			f, err := Read(path)
			if err != nil {
				b.Fatal(err)
			}
			if s, findings, err := f.Replay(); err != nil || len(findings) > 0 || s.CurrentItem() != nil {
				b.Fatal(err, findings)
			}
		}
	})
}

// BenchmarkReplayAgainstJSON reads a record, holds every line against its hash, and judges
// and folds its events, turn and turn about with reading the lines with encoding/json and
// doing nothing with them. The sheet in the header, which encoding/json takes for a text,
// is told apart: this record has 10 000 bolts and an event for each of them.
func BenchmarkReplayAgainstJSON(b *testing.B) {
	path := longRecord(b, 10_000)
	var ours, sheet, theirs time.Duration
	for b.Loop() {
		from := time.Now()
		f, err := Read(path)
		if err != nil {
			b.Fatal(err)
		}
		read := time.Now()
		s, err := f.Start()
		if err != nil {
			b.Fatal(err)
		}
		laidOut := time.Now()
		if findings := walk.Replay(s, f.Events); len(findings) > 0 || s.CurrentItem() != nil {
			b.Fatal(findings)
		}
		between := time.Now()
		ours, sheet = ours+read.Sub(from)+between.Sub(laidOut), sheet+laidOut.Sub(read)
		data, err := os.ReadFile(path)
		if err != nil {
			b.Fatal(err)
		}
		header, events, _ := bytes.Cut(data, []byte("\n"))
		var h Header
		if err := json.Unmarshal(header, &h); err != nil {
			b.Fatal(err)
		}
		var all []eventLine
		for line := range bytes.Lines(events) {
			var e eventLine
			if err := json.Unmarshal(line, &e); err != nil {
				b.Fatal(err)
			}
			all = append(all, e)
		}
		if len(all) != len(f.Events) {
			b.Fatal(len(all), len(f.Events))
		}
		theirs += time.Since(between)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×encoding/json")
	b.ReportMetric(float64(ours+sheet)/float64(theirs), "×encoding/json-with-the-sheet")
	b.ReportMetric(0, "ns/op")
}
