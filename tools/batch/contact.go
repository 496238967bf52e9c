package batch

import (
	"bufio"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"net/url"
	"path"
	"strings"

	"threeply/proof/label"
)

//go:embed contact.css
var contactLook string

var (
	contactHead = template.Must(template.New("head").Parse(`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>` + contactTitle + `</title>
<meta name="generator" content="{{.Tool}}">
<style>{{.Look}}</style>
</head>
<body>
<h1>{{.Sets}}, {{.Mind}} to look at</h1>
<main>
`))
	contactSet = template.Must(template.New("set").Parse(`<figure{{if .Mind}} class="mind"{{end}}>
<div>{{range .Small}}<img loading="lazy" src="{{.}}" alt="">{{else}}<span>nothing was made</span>{{end}}</div>
<figcaption><strong>{{if .Link}}<a href="{{.Link}}">{{.Name}}</a>{{else}}{{.Name}}{{end}}</strong>{{if .Title}} <bdi>{{.Title}}</bdi>{{end}}
{{range .Look}}<p>{{.}}</p>
{{end}}</figcaption>
</figure>
`))
)

const contactTitle = "Contact sheet of a batch"

const contactFoot = "</main>\n</body>\n</html>\n"

// Contact writes the contact sheet of all sets, in the order of Urgent: a page that shows
// the small pictures of their folders.
func Contact(out io.Writer, all *Gathered) error {
	b := bufio.NewWriter(out)
	head := struct {
		Look template.CSS
		Sets string
		Mind int
		Tool string
	}{template.CSS(contactLook), counted(all.Sets), all.Mind, label.Tool()}
	if err := contactHead.Execute(b, head); err != nil {
		return err
	}
	for f, err := range all.All() {
		if err != nil {
			return err
		}
		shows := struct {
			Mind              bool
			Name, Title, Link string
			Look, Small       []string
		}{Mind: f.Why < Fine, Name: f.Set, Title: f.Title, Look: f.Look}
		if f.Folder != "" {
			shows.Link = address(f.Folder) + "/"
		}
		for _, small := range f.Small {
			shows.Small = append(shows.Small, address(path.Join(f.Folder, small)))
		}
		if err := contactSet.Execute(b, shows); err != nil {
			return err
		}
	}
	b.WriteString(contactFoot)
	return b.Flush()
}

func counted(sets int) string {
	if sets == 1 {
		return "1 set"
	}
	return fmt.Sprintf("%d sets", sets)
}

// address is a path as a page in the report's folder links to it.
func address(file string) string {
	parts := strings.Split(file, "/")
	for i := range parts {
		parts[i] = url.PathEscape(parts[i])
	}
	return "./" + strings.Join(parts, "/")
}
