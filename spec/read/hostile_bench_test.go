package read

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"evenpull/spec/outside"
)

// Files a stranger might send: as large as is read, made to take long.

const (
	hostileHead  = "format = 1\n[procedure]\nname = \"x\"\ndirection = \"close\"\nsource = \"invented\"\n"
	hostileGroup = "[group.g]\nthread = \"M8\"\nclass = \"8.8\"\ntorque = \"22 N·m\"\n"
)

// many repeats a line with its number for every # in it, as far as the file may go.
func many(line string, n int) string {
	var b strings.Builder
	for i := 0; i < n && b.Len() < MaxFileBytes; i++ {
		b.WriteString(strings.ReplaceAll(line, "#", fmt.Sprint(i)))
	}
	return b.String()
}

// hostile gives the files by name; with part 1 they are as large as is read.
func hostile(part int) map[string]string {
	most := MaxFileBytes / part
	bolts := hostileGroup + "[group.g.at]\n" + many("B#=[#,0]\n", MaxFasteners/part)
	groups := many("[group.g#]\nthread=\"M8\"\nclass=\"8.8\"\ntorque=\"22 Nm\"\nat={B#=[#,0]}\n", 8000/part)
	pass := "[[pass]]\nname=\"p\"\ntorque=\"40 %\"\n"
	return map[string]string{
		"deep arrays":                   "a=" + strings.Repeat("[", most-2),
		"deep inline tables":            "a=" + strings.Repeat("{a=", most/3-1),
		"deep dotted key":               strings.Repeat("a.", most/2-2) + "a=1",
		"deep header":                   "[" + strings.Repeat("a.", most/2-2) + "a]",
		"keys given twice, late":        "# " + strings.Repeat("x", most/2) + "\n" + many("k#=1\n", 25_000/part) + many("k#=1\n", 25_000/part),
		"tables given twice, late":      "# " + strings.Repeat("x", most/2) + "\n" + many("[k#]\n", 25_000/part) + many("[k#]\n", 25_000/part),
		"keys nobody knows":             hostileHead + bolts + many("unknown#=1\n", 50_000/part),
		"groups nobody can use":         hostileHead + many("[group.g#]\nx=1\n", 45_000/part),
		"fasteners that are not there":  hostileHead + bolts + pass + "fasteners=[" + many(`"zzzzzzzzzzzzzzzz#",`, 30_000/part) + "]\n",
		"groups that are not there":     hostileHead + groups + pass + "groups=[" + many(`"zzzzzz#",`, 30_000/part) + "]\n",
		"a group for every fastener":    hostileHead + groups + many("[[pass]]\nname=\"p#\"\ntorque=\"40 %\"\ngroups=["+many(`"g#",`, 8000/part)+"]\n", 4),
		"numbers for names":             hostileHead + bolts + pass + "fasteners=[" + strings.Repeat("1,", 400_000/part) + "]\n",
		"200 passes of 10 000":          hostileHead + bolts + many("[[pass]]\nname=\"p#\"\ntorque=\"40 %\"\ngroups=[\"g\"]\norder=\"spiral\"\n", MaxPasses),
		"a step for every second":       hostileHead + bolts + pass[:18] + "groups=[\"g\"]\neach=[" + many(`{torque="20 Nm"},`, 40_000/part) + "]\n",
		"steps times groups":            hostileHead + groups + pass[:18] + "groups=[" + many(`"g#",`, 8000/part) + "]\neach=[" + many(`{torque="20 Nm"},`, 15_000/part) + "]\n",
		"questions without end":         hostileHead + hostileGroup + "at={A=[0,0]}\n" + pass + "groups=[\"g\"]\n" + many("[[check]]\nafter=\"p\"\nask=\"q\"\n", 25_000/part),
		"parts without end":             hostileHead + hostileGroup + "at={A=[0,0]}\n" + pass + "groups=[\"g\"]\n" + many("[[part]]\nname=\"q\"\nkind=\"seal\"\n", 25_000/part),
		"parts after passes not there":  hostileHead + hostileGroup + "at={A=[0,0]}\n" + pass + "groups=[\"g\"]\n" + many("[[part]]\nname=\"q#\"\nafter=\"zzzzzzz\"\n", 25_000/part),
		"washers without end":           hostileHead + hostileGroup + "with=[" + many(`{part="w#"},`, 60_000/part) + "]\nat={A=[0,0]}\n" + pass + "groups=[\"g\"]\n",
		"many passes of one in a crowd": hostileHead + groups + many("[[pass]]\nname=\"p#\"\ntorque=\"40 %\"\ngroups=[\"g7999\"]\n", MaxPasses),
	}
}

// They are not turned away for their size or a slip in their syntax, but read
// to the end, and the answer is no longer than a person can read.
func TestHostileFilesAreReadAndAnsweredBriefly(t *testing.T) {
	for name, text := range hostile(1) {
		if len(text) < MaxFileBytes/8 || len(text) > MaxFileBytes {
			t.Errorf("%s: %d bytes", name, len(text))
		}
	}
	for name, text := range hostile(outside.Times(150, 20)) { // a twentieth is syntax enough
		_, problems := Procedure("hostile.toml", []byte(text))
		if len(problems) > maxProblems+1 {
			t.Errorf("%s: %d problems", name, len(problems))
		}
		deep := name == "deep arrays" || name == "deep inline tables"
		if slip := strings.Contains(problems.Error(), "not valid TOML"); slip != deep {
			t.Errorf("%s: a slip in the syntax: %v, want %v: %v", name, slip, deep, problems[:min(2, len(problems))])
		}
	}
}

// BenchmarkHostile reads each of them once a run: no answer may take a second.
func BenchmarkHostile(b *testing.B) {
	for name, text := range hostile(1) {
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			data := []byte(text)
			var took time.Duration
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			for b.Loop() {
				start := time.Now()
				Procedure("hostile.toml", data)
				took += time.Since(start)
			}
			runtime.ReadMemStats(&after)
			b.ReportMetric(float64(took.Microseconds())/1000/float64(b.N), "ms")
			b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/float64(b.N)/(1<<20), "MB-allocated")
			b.ReportMetric(0, "ns/op")
		})
	}
}
