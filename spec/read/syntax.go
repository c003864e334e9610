package read

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"evenpull/spec"
	"evenpull/spec/pattern"
)

const (
	notTOML = "not valid TOML: "
	seeTOML = "see https://toml.io for the syntax"
)

// bareValue is a word or a figure with its unit where a value has to be in quotes.
var bareValue = pattern.Of(`^\s*[^=#\s]+\s*=\s*([^"'\[{#\s][^"'#,\]}]*)`)

// badSyntax is a fault at a place where the text is no TOML. The parsers' words
// say what they met; the remedy says what the writer most likely meant.
func badSyntax(text []byte, at int, words string) fault {
	at = min(at, len(text))
	line := string(text[bytes.LastIndexByte(text[:at], '\n')+1:])
	line, _, _ = strings.Cut(line, "\n")
	r, _ := utf8.DecodeRune(text[at:])
	remedy := seeTOML
	bare := bareValue.RE().FindStringSubmatch(line)
	switch {
	case strings.ContainsRune("“”„‘’«»", r):
		words, remedy = "these quotes are not the plain ones", `write " before and after a text`
	case bare != nil && truth[strings.ToLower(strings.TrimSpace(bare[1]))] != "":
		remedy = "write " + truth[strings.ToLower(strings.TrimSpace(bare[1]))]
	case bare != nil && strings.Contains(words, "value") || strings.Contains(words, "must be quoted"):
		remedy = "put text, and a figure with its unit, in quotes"
		if bare != nil {
			remedy = "write it in quotes: " + spec.Quote(strings.TrimSpace(bare[1]))
		}
	case strings.Contains(words, "'=' after key"):
		remedy = "write key = value"
	case strings.Contains(words, "new lines"):
		remedy = "close the quotes on the same line"
	case strings.Contains(words, "expected newline"):
		remedy = `one key a line, nothing behind its value; a " inside a text is written \"`
	case strings.Contains(words, "escape"):
		remedy = `write \\ for a backslash`
	case strings.Contains(words, "after array value"):
		remedy = "close the list with ], with commas between what is in it"
	case strings.Contains(words, "after inline table"):
		remedy = "close it with }, with commas between its keys"
	case strings.Contains(words, "close table name"):
		remedy = "close the heading with ]"
	}
	return fault{at: at, what: notTOML + spec.Printable(words), remedy: remedy}
}

// truth is how true and false are written by those who know other formats.
var truth = map[string]string{"yes": "true", "on": "true", "y": "true", "true": "true", "no": "false", "off": "false", "n": "false", "false": "false"}
