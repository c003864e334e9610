package report

import "io"

// Formats are the ways to export a sheet, by the name on the command line.
var Formats = map[string]func(io.Writer, Sheet) error{
	"text": WritePages,
	"html": WriteHTML,
	"csv":  WriteCSV,
	"json": WriteJSON,
}
