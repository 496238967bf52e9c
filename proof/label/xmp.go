package label

import (
	"bytes"
	"fmt"
	"strings"
)

// Namespace is that of the properties which no public vocabulary has. Its host is of
// those that never exist (RFC 2606), for it is a name only.
const Namespace = "https://threeply.invalid/plates/1/"

// The packet's head and end (ISO 16684-1:2012, 7.3.2). It is read-only: whoever changes
// the file's words writes a packet of their own.
const (
	packetHead = "<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
	packetEnd  = "<?xpacket end=\"r\"?>"
)

// XMP is the label as an XMP packet (ISO 16684-1:2012). format is the media type of the
// file, such as image/tiff.
//
// Public terms are the elements of the Dublin Core and, where these have none, its newer
// terms (DCMI Metadata Terms, 2020); the scans and their matrices stand in Namespace.
func (l Label) XMP(format string) []byte {
	x := &packet{}
	x.WriteString(packetHead)
	x.WriteString(`<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:dcterms="http://purl.org/dc/terms/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:plates="` + Namespace + `">
`)
	x.text("dc:format", format)
	x.list("dc:title", "Alt", l.Title)
	x.text("dc:identifier", l.Identity.Number)
	x.list("dc:creator", "Seq", l.Identity.Creator)
	x.text("dcterms:created", l.Identity.Created)
	x.text("dc:coverage", l.Identity.Place)
	x.list("dc:relation", "Bag", l.Identity.Collection)
	x.list("dc:rights", "Alt", l.Identity.Rights)
	x.list("dc:description", "Alt", joined("\n", l.Identity.Description, l.Says))
	var sources []string
	for _, p := range l.Plates {
		if p.File != "" {
			sources = append(sources, joined(" ", p.File, prefixed("SHA-256 ", p.SHA256)))
		}
	}
	x.text("dc:source", strings.Join(sources, "; "))
	x.text("xmp:CreatorTool", l.Tool)
	x.text("xmp:CreateDate", l.Time())
	x.text("xmp:MetadataDate", l.Time())
	x.text("plates:Key", l.Key)
	if len(sources) > 0 {
		x.WriteString("<plates:Set><rdf:Seq>\n")
		for _, p := range l.Plates {
			x.WriteString("<rdf:li rdf:parseType=\"Resource\">\n")
			x.text("plates:Filter", p.Filter)
			x.text("plates:File", p.File)
			x.text("plates:SHA256", p.SHA256)
			x.text("plates:Letter", p.Letter)
			x.text("plates:Condition", p.Condition)
			x.text("plates:MatrixFromKey", matrixWords(p.Matrix))
			x.WriteString("</rdf:li>\n")
		}
		x.WriteString("</rdf:Seq></plates:Set>\n")
	}
	x.WriteString("</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n" + packetEnd)
	return x.Bytes()
}

// packet is XML on its way. What is empty is left out.
type packet struct{ bytes.Buffer }

func (x *packet) text(name, says string) {
	if says != "" {
		fmt.Fprintf(x, "<%s>%s</%s>\n", name, escaped(says), name)
	}
}

// list writes a property that is a list in XMP though it has one value here.
func (x *packet) list(name, kind, says string) {
	if says == "" {
		return
	}
	lang := ""
	if kind == "Alt" {
		lang = ` xml:lang="x-default"`
	}
	fmt.Fprintf(x, "<%s><rdf:%s><rdf:li%s>%s</rdf:li></rdf:%s></%s>\n", name, kind, lang, escaped(says), kind, name)
}

// escaped is a text as XML holds it; signs that XML cannot hold become U+FFFD (Extensible
// Markup Language 1.0, fifth edition, 2.2 and 2.4). The library that does the same would
// make the page's program larger by a tenth.
func escaped(text string) string {
	text = strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xd7ff || r >= 0xe000 && r <= 0xfffd || r >= 0x10000 {
			return r
		}
		return '\ufffd'
	}, strings.ToValidUTF8(text, "\ufffd"))
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\r", "&#xD;").Replace(text)
}

func joined(between string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, between)
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}
