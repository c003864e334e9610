package report

import "io"

// Formats are the ways to export a sheet, by the name on the command line.
var Formats = map[string]func(io.Writer, Sheet, Paper) error{
	"text": anyPaper(WritePages),
	"html": WriteHTML,
	"svg":  anyPaper(WriteSVG),
	"csv":  anyPaper(WriteCSV),
	"json": anyPaper(WriteJSON),
}

// anyPaper is for what is not laid out for a paper.
func anyPaper(write func(io.Writer, Sheet) error) func(io.Writer, Sheet, Paper) error {
	return func(w io.Writer, s Sheet, _ Paper) error { return write(w, s) }
}
