package keys

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
)

// Problems is for the tests of screens: it returns what is wrong with a keymap
// and its help, in words, and nothing if all is well. The keymap is a struct
// whose fields of type key.Binding, exported or not, are its bindings. Every
// binding must stand in a group of the full help, say what it does, carry a
// label made of keys it is bound to, and share no key with another.
func Problems(keymap any, groups ...Group) (problems []string) {
	listed := map[string]bool{}
	for _, g := range groups {
		for _, b := range g.Bindings {
			listed[fingerprint(b)] = true
		}
	}
	owner := map[string]string{}
	for name, b := range bindings(keymap) {
		if !listed[fingerprint(b)] {
			problems = append(problems, fmt.Sprintf("%s (%s) is in no group of the full help", name, b.Help().Key))
		}
		if b.Help().Desc == "" {
			problems = append(problems, fmt.Sprintf("%s (%s) doesn't say what it does", name, b.Help().Key))
		}
		for label := range strings.SplitSeq(b.Help().Key, ", ") {
			if len(b.Keys()) > 1 && label == Span("", b.Keys()...).Help().Key {
				continue
			}
			if !slices.ContainsFunc(b.Keys(), func(k string) bool { return Name(k) == label }) {
				problems = append(problems, fmt.Sprintf("%s: label %q names no key it is bound to (%q)", name, label, b.Keys()))
			}
		}
		for _, k := range b.Keys() {
			if other, taken := owner[k]; taken {
				problems = append(problems, fmt.Sprintf("%s and %s are both bound to %q", min(name, other), max(name, other), k))
			}
			owner[k] = name
		}
	}
	if len(owner) == 0 {
		problems = append(problems, fmt.Sprintf("%T holds no bindings", keymap))
	}
	slices.Sort(problems)
	return problems
}

func fingerprint(b key.Binding) string {
	return strings.Join(b.Keys(), "\x00") + "\x01" + b.Help().Desc
}

// bindings reads the fields of a struct. Unexported fields can be read by
// making an addressable copy.
func bindings(keymap any) map[string]key.Binding {
	found := map[string]key.Binding{}
	v := reflect.Indirect(reflect.ValueOf(keymap))
	if v.Kind() != reflect.Struct {
		return found
	}
	copied := reflect.New(v.Type()).Elem()
	copied.Set(v)
	for i := range copied.NumField() {
		field := copied.Field(i)
		if field.Type() == reflect.TypeFor[key.Binding]() {
			b := *(*key.Binding)(field.Addr().UnsafePointer())
			found[v.Type().Field(i).Name] = b
		}
	}
	return found
}
