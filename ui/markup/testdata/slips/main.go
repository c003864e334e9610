// Command slips puts what is no constant where markup goes. It must not compile: a
// test counts what the compiler says to each line.
package main

import (
	"os"

	"evenpull/ui/markup"
)

const typed string = "<b>"

func main() {
	name, p := os.Args[0], markup.New(os.Stdout)
	p.Put("<b>{}</b>", name) // the one that is right
	p.Put(name)
	p.Put("<b>" + name + "</b>")
	p.Put(string("<b>"))
	p.Put(typed)
	p.If(true, name)
	p.Each(nil, name)
	p.Put(markup.constant(name))
	p.Put("<img src=\"{}\">", markup.Picture{mime: name})
}
