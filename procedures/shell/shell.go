// Package shell writes command lines of this program for a person to paste: go
// on with a walk, look at a record. Words that come from a file or a record are
// data, and stay data whatever they hold.
package shell

import (
	"runtime"
	"strings"

	"evenpull/spec"
)

// Line gives one command line: the command, its arguments, then flags as pairs
// of name and value. A flag whose value is empty is left out.
//
// On Unix it can be pasted into sh, bash, zsh and fish, on Windows into
// PowerShell and the command prompt. Arguments that begin with a hyphen follow
// a bare --, so that none is taken for a flag.
func Line(command string, args []string, flags ...string) string {
	return line(runtime.GOOS, command, args, flags)
}

func line(goos, command string, args, flags []string) string {
	words := []string{"evenpull", command}
	var given, named []string
	hyphen := false
	for _, a := range args {
		given = append(given, word(goos, a))
		hyphen = hyphen || strings.HasPrefix(a, "-")
	}
	for i := 0; i+1 < len(flags); i += 2 {
		if flags[i+1] != "" {
			named = append(named, flags[i], word(goos, flags[i+1]))
		}
	}
	if hyphen {
		words = append(append(append(words, named...), "--"), given...)
	} else {
		words = append(append(words, given...), named...)
	}
	return strings.Join(words, " ")
}

// Word gives one word as it has to be typed on this system.
func Word(text string) string { return word(runtime.GOOS, text) }

func word(goos, text string) string {
	text = spec.Printable(text)
	switch {
	case goos == "windows":
		return windowsWord(text)
	case isPlain(text, "_./-"):
		return text
	}
	// Outside the quotes a quote and a backslash each take a backslash: inside
	// them fish reads backslashes that sh does not.
	return "'" + strings.NewReplacer(`'`, `'\''`, `\`, `'\\'`).Replace(text) + "'"
}

func isPlain(text, also string) bool {
	for _, r := range text {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune(also, r)) {
			return false
		}
	}
	return text != ""
}

// unquotable are the characters that PowerShell or the command prompt act upon
// inside double quotes: no spelling of them means the same to both.
const unquotable = "\"$`%“”„‟"

// windowsWord is in double quotes, the only ones both shells know. What cannot
// stand in them becomes a question mark: better a line that finds nothing than
// one that runs something.
func windowsWord(text string) string {
	if isPlain(text, `_./\:-`) {
		return text
	}
	text = strings.Map(func(r rune) rune {
		if strings.ContainsRune(unquotable, r) {
			return '?'
		}
		return r
	}, text)
	bare := strings.TrimRight(text, `\`)
	return `"` + text + strings.Repeat(`\`, len(text)-len(bare)) + `"` // a last backslash would take the quote with it
}
