package shell

import (
	"os/exec"
	"strings"
	"testing"
)

func TestLineIsAsItHasToBeTyped(t *testing.T) {
	for _, c := range []struct {
		goos, command string
		args, flags   []string
		want          string
	}{
		{"linux", "walk", []string{"crankcase-close"}, []string{"--engine", "stand 2"}, "evenpull walk crankcase-close --engine 'stand 2'"},
		{"linux", "walk", []string{"my sheet.toml"}, []string{"--engine", ""}, "evenpull walk 'my sheet.toml'"},
		{"linux", "engine", []string{"--name"}, []string{"--also", "x"}, "evenpull engine --also x -- --name"},
		{"linux", "engine", []string{""}, nil, "evenpull engine ''"},
		{"linux", "engine", []string{"it's; rm -rf ~ $(id) `id`\\"}, nil, `evenpull engine 'it'\''s; rm -rf ~ $(id) ` + "`id`" + `'\\''`},
		{"linux", "engine", []string{"a\nb\x1b[2J"}, nil, "evenpull engine 'a\uFFFDb\uFFFD[2J'"},
		{"windows", "walk", []string{`C:\sheets\a.toml`}, []string{"--engine", "stand 2"}, `evenpull walk C:\sheets\a.toml --engine "stand 2"`},
		{"windows", "records", nil, []string{"--records", `C:\my records\`}, `evenpull records --records "C:\my records\\"`},
		{"windows", "engine", []string{"a\" & calc & $(calc) %PATH% `x” "}, nil, `evenpull engine "a? & calc & ?(calc) ?PATH? ?x? "`},
	} {
		if got := line(c.goos, c.command, c.args, c.flags); got != c.want {
			t.Errorf("on %s: %s\nwant %s", c.goos, got, c.want)
		}
	}
}

// hostile are words that mean something to one shell or another.
var hostile = []string{
	"plain", "two words", "it's", `say "x"`, "$(touch broken)", "`touch broken`", "a;touch broken", "a|b", "a&b", "a>b", "*", "~", "=ls", "!!",
	`back\slash`, `end\`, `\'`, `'\''`, "#7", "-x", "{a,b}", "[ab]", "N·m", "“curly”", "a\\\\'b",
}

// Every word comes out of a real shell as it went in.
func TestShellGivesTheWordBack(t *testing.T) {
	for _, text := range hostile {
		cmd := exec.Command("sh", "-c", "printf %s "+word("linux", text))
		cmd.Dir = t.TempDir()
		out, err := cmd.Output()
		if err != nil || string(out) != text {
			t.Errorf("%q came back as %q, %v", text, out, err)
		}
	}
}

// On Windows nothing a shell acts upon stands outside double quotes, or unescaped inside.
func FuzzWindowsWordStaysQuoted(f *testing.F) {
	for _, text := range hostile {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := word("windows", text)
		inner, quoted := strings.CutPrefix(got, `"`)
		if !quoted {
			if !isPlain(got, `_./\:-`) {
				t.Fatalf("%q stands bare as %s", text, got)
			}
			return
		}
		inner, ended := strings.CutSuffix(inner, `"`)
		if !ended || strings.ContainsAny(inner, unquotable+"\n\r\x00") {
			t.Fatalf("%q gives %s", text, got)
		}
		if tail := len(inner) - len(strings.TrimRight(inner, `\`)); tail%2 != 0 {
			t.Fatalf("%q gives %s: the last quote is escaped", text, got)
		}
	})
}
