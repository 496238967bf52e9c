// Package leaf makes the pages that are printed: one self-contained HTML file each,
// without scripts and without anything from elsewhere, for A4 and Letter alike. A sheet
// brings its own template, here are the frame around it and the look that all share.
//
// Text goes through html/template: whatever somebody typed is text. What a person has
// typed stands in a <bdi>, so that letters that run from right to left turn nothing
// around them, and where it stands by itself in an element that is marked translate="no":
// the page says all else in its language before a sheet leaves.
package leaf

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode"
)

//go:embed leaf.css
var look string

const frame = `{{define "leaf"}}<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<title>{{.Title}}</title>
<style>{{.Look}}</style>
</head>
<body>
<main>
{{.Body}}
</main>
</body>
</html>
{{end}}`

var framed = template.Must(template.New("").Parse(frame))

// object is a part of every sheet that is shown an identity, {{template "object" .Identity}}:
// rows of a list that say which object the sheet is of.
//
//go:embed object.html
var object string

// Parse reads the template of a sheet. It has the part “object” and the functions
//
//	picture BYTES   bytes of a PNG or a JPEG as the address of an img
//	time MOMENT     a moment, or one as RFC 3339 writes it, as people do
//	joined TEXT     a sentence in which no line ends between a figure and its unit
//
// It may ask for fields of what it is shown, not for methods (see plain). A template that cannot be read is a fault of the program.
func Parse(text string) *template.Template {
	return template.Must(template.New("sheet").Option("missingkey=error").Funcs(template.FuncMap{"picture": picture, "time": moment, "joined": joined}).Parse(object + text))
}

func picture(file []byte) template.URL {
	kind := "png"
	if bytes.HasPrefix(file, []byte("\xff\xd8")) {
		kind = "jpeg"
	}
	return template.URL("data:image/" + kind + ";base64," + base64.StdEncoding.EncodeToString(file))
}

// units are those that stay on the line of their figure.
var units = []string{"%", "mm", "µm", "°C", "h", "min", "s", "g"}

func joined(text string) string {
	var out strings.Builder
	before := ""
	for i, word := range strings.Split(text, " ") {
		figure := before != "" && unicode.IsDigit(rune(before[len(before)-1]))
		switch {
		case i == 0:
		case figure && slices.Contains(units, strings.TrimRight(word, ".,;:)")):
			out.WriteString("\u00a0")
		default:
			out.WriteByte(' ')
		}
		out.WriteString(word)
		before = word
	}
	return out.String()
}

func moment(v any) string {
	at, ok := v.(time.Time)
	if !ok {
		var err error
		if at, err = time.Parse(time.RFC3339, fmt.Sprint(v)); err != nil {
			return fmt.Sprint(v)
		}
	}
	return at.UTC().Format("2 January 2006, 15:04 UTC")
}

// Write writes a page: a sheet's template with what it shows. style is CSS of the
// sheet's own, "" for none. Its errors are those of out and of the template.
func Write(out io.Writer, title, style string, sheet *template.Template, shows any) error {
	var body bytes.Buffer
	if err := sheet.Execute(&body, plain(reflect.ValueOf(shows))); err != nil {
		return err
	}
	return framed.ExecuteTemplate(out, "leaf", struct {
		Title string
		Look  template.CSS
		Body  template.HTML
	}{title, template.CSS(look + style), template.HTML(body.String())})
}
