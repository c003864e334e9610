// Package markup writes HTML pages and SVG drawings. What is markup in them stands in
// the source of this program and nowhere else: Put's first argument has a type without
// a name outside, which only a constant becomes. Whatever goes into its places is a
// value, escaped for where it stands, and refused where nothing may stand.
package markup

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// constant is text that stands in the source of the program.
type constant string

// Page is a document while it is written. A mistake in its markup is one of this
// program, and ends it: nothing more is written, and Close tells.
type Page struct {
	out  *bufio.Writer
	at   place
	last byte   // of the markup so far
	word []byte // the name under way, of an element or an attribute
	tag  string // the element whose tag is open
	attr string // the attribute whose value is open
	err  error
}

// place is where in the markup a page has come to.
type place int

const (
	inText   place = iota
	inTag          // between < and >
	inValue        // of an attribute, in its quotes
	inStyle        // between <style> and </style>
	inString       // in quotes, there
)

// What may stand in what. Numbers do no harm in any value, texts only in these.
var (
	takesText = []string{"class", "fill", "text-anchor"}
	takesURL  = "src" // a Picture, and nothing else
	never     = []string{"href", "xlink:href", "srcdoc", "srcset", "action", "formaction", "data", "background", "poster"}
)

// New is a page that is written to w.
func New(w io.Writer) *Page { return &Page{out: bufio.NewWriter(w)} }

// Put writes markup, with a value in each of its places, which are written {}.
func (p *Page) Put(markup constant, values ...any) {
	pieces := strings.Split(string(markup), "{}")
	if len(pieces) != len(values)+1 {
		p.fail("%d values for %d places", len(values), len(pieces)-1)
	}
	for i, piece := range pieces {
		p.follow(piece)
		if p.err == nil {
			_, _ = p.out.WriteString(piece) // Flush tells what went wrong
		}
		if i < len(values) && p.err == nil {
			p.value(values[i])
		}
	}
}

// If puts what a condition asks for.
func (p *Page) If(is bool, markup constant, values ...any) {
	if is {
		p.Put(markup, values...)
	}
}

// Each puts the same markup around each text.
func (p *Page) Each(texts []string, markup constant) {
	for _, text := range texts {
		p.Put(markup, text)
	}
}

// Close ends the page and tells of its first mistake, or what kept it from being written.
func (p *Page) Close() error {
	if p.at != inText {
		p.fail("the page ends")
	}
	return errors.Join(p.err, p.out.Flush())
}

func (p *Page) fail(format string, args ...any) {
	if p.err == nil {
		where := [...]string{"in the text", "in the tag " + p.tag, "in the value of " + p.attr, "in the style", "in a text of the style"}[p.at]
		p.err = fmt.Errorf("markup: "+format+", %s", append(args, where)...)
	}
}

// follow finds out where a piece of markup leads to. It holds the program to a plain
// way of writing: every value in double quotes, no comments, no scripts, no addresses.
func (p *Page) follow(piece string) {
	for i := range len(piece) {
		c := piece[i]
		switch p.at {
		case inText:
			if c == '<' {
				p.at, p.tag, p.word = inTag, "", nil
			}
		case inTag:
			p.inTag(c)
		case inValue:
			switch {
			case c == '"':
				p.at, p.word = inTag, nil
			case c == '<' || p.attr == takesURL:
				p.fail("%q", c)
			}
		case inStyle:
			switch c {
			case '"':
				p.at = inString
			case '<':
				p.at, p.tag, p.word = inTag, "", nil
			}
		case inString:
			switch c {
			case '"':
				p.at = inStyle
			case '<', '\n', '\\':
				p.fail("%q", c)
			}
		}
		p.last = c
	}
}

func (p *Page) inTag(c byte) {
	if (p.last == '=') != (c == '"') || c == '<' || c == '\'' {
		p.fail("%q", c)
	}
	switch c {
	case ' ', '\n', '>', '=':
		if p.tag == "" {
			p.tag = string(p.word)
		}
		if p.tag == "script" || strings.HasPrefix(p.tag, "!--") {
			p.fail("a script or a comment")
		}
		if c == '=' {
			p.attr = string(p.word)
			if strings.HasPrefix(p.attr, "on") || slices.Contains(never, p.attr) {
				p.fail("an attribute %s", p.attr)
			}
		}
		p.word = nil
		if c == '>' {
			p.at = inText
			if p.tag == "style" {
				p.at = inStyle
			}
		}
	case '"':
		p.at = inValue
	default:
		p.word = append(p.word, c)
	}
}

// value writes what stands in a place.
func (p *Page) value(v any) {
	number := false
	switch v.(type) {
	case int, float64:
		number = true
	}
	switch p.at {
	case inText:
		p.escaped(fmt.Sprint(v))
	case inValue:
		picture, drawn := v.(Picture)
		_, text := v.(string)
		switch {
		case p.attr == takesURL && drawn:
			picture.write(p)
		case p.attr != takesURL && number || text && slices.Contains(takesText, p.attr):
			p.escaped(fmt.Sprint(v))
		default:
			p.fail("a %T", v)
		}
	case inStyle:
		if text := fmt.Sprint(v); number || plainWord(text) {
			_, _ = p.out.WriteString(text)
		} else {
			p.fail("a %T", v)
		}
	case inString:
		_, _ = p.out.WriteString(quoted(fmt.Sprint(v)))
	default:
		p.fail("a %T", v)
	}
}
