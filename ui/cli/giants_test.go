//go:build unix

package cli

import (
	"bufio"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/growth"
	"evenpull/spec/ident"
)

// Everything here is written piece by piece: a process is counted the memory of the one
// that started it, up to where it becomes another program.

// giant is the largest sheet but for its passes: 10 000 bolts in 20 of them.
func giant(b *testing.B, orders ...string) (path, text string) {
	b.Helper()
	text = growth.Sheet(10_000, slices.Repeat(orders, 20/len(orders))...)
	path = filepath.Join(b.TempDir(), "giant.toml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		b.Fatal(err)
	}
	return path, text
}

// longWalk writes the record of a whole walk of a giant with so many events, as another
// program might: by the contract of the format alone. What is no stage is a note.
func longWalk(b *testing.B, events int) (path string) {
	b.Helper()
	_, text := giant(b, "listed")
	begun := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	path = filepath.Join(b.TempDir(), "giant.jsonl")
	file, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	out := bufio.NewWriter(file)
	line := func(v any) []byte {
		text, err := json.Marshal(v)
		if err != nil {
			b.Fatal(err)
		}
		text = text[:len(text)-1]
		text = fmt.Appendf(text, `,"sum":"%x"}`, sha256.Sum256(text))
		out.Write(append(text, '\n'))
		return text
	}
	last := line(record.Header{Format: record.FormatVersion, ID: "giant", Procedure: "Close a large cover", Source: "giant.toml", Engine: "giant", Direction: spec.Close,
		SHA256: record.TextHash([]byte(text)), Started: begun, Program: "test", Rules: walk.Rules, Text: text})
	for i := range events {
		e := walk.Event{Seq: i + 1, At: begun.Add(time.Duration(i) * time.Second), Kind: walk.Noted, Text: fmt.Sprintf("reading %d of the log taken", i)}
		if stage := i - (events - 1 - 200_000); stage == 200_000 {
			e.Kind, e.Text = walk.Done, ""
		} else if stage >= 0 {
			e.Kind, e.Text, e.Item = walk.Confirmed, "", ident.StageStep(fmt.Sprintf("Pass %d", 1+stage/10_000), fmt.Sprintf("B%d", stage%10_000), 0).String()
		}
		last = line(struct {
			walk.Event
			Prev string `json:"prev"`
		}{e, fmt.Sprintf("%x", sha256.Sum256(last))})
	}
	if err := errors.Join(out.Flush(), file.Close()); err != nil {
		b.Fatal(err)
	}
	return path
}

// BenchmarkGiants gives the most memory that the largest sheet and the longest record
// take, each in a process of its own.
func BenchmarkGiants(b *testing.B) {
	ours := shipped(b, "evenpull")
	sheet, _ := giant(b, "listed", "cross", "spiral", "reverse")
	walked, long := longWalk(b, 200_001), longWalk(b, 1_000_000)
	for _, work := range []struct {
		name string
		in   string
		args []string
	}{
		{"Check", "", []string{"check", sheet}},
		{"Plan", "", []string{"plan", sheet}},
		{"PlainWalk", strings.Repeat("ok\n", 20), []string{"walk", sheet, "--plain", "--new", "--engine", "giant"}},
		{"Verify", "", []string{"verify", walked}},
		{"VerifyMillion", "", []string{"verify", long}},
	} {
		b.Run(work.name, func(b *testing.B) {
			most := 0.0
			var took []time.Duration
			for b.Loop() {
				env := plainEnv(b) // no other walk of the engine is read
				t, memory := process(b, env, strings.NewReader(work.in), ours, work.args...)
				most, took = max(most, memory), append(took, t)
			}
			b.ReportMetric(most, "MiB-peak")
			b.ReportMetric(middle(took), "ms")
			b.ReportMetric(0, "ns/op")
		})
	}
}
