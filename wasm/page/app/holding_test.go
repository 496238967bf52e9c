package app

import (
	"strings"
	"testing"
)

// One act holds the print as it was before its last change, and stands it beside the print of now;
// steps that changed no print are passed over, and a later change does not move it on.
func TestHoldBefore(t *testing.T) {
	p := opened(t)
	if err := p.Do([]byte(`{"do":"holdBefore"}`)); err == nil || !strings.Contains(err.Error(), "not changed yet") {
		t.Errorf("before the first change: %v", err)
	}
	was := p.Shown()
	p.do(`{"do":"palette","id":"earth"}`)
	p.do(`{"do":"noteHere"}`)
	p.do(`{"do":"look","id":"edges"}`)
	p.do(`{"do":"holdBefore"}`)
	if v := p.View; v.Look != "beside" || v.Left != "held-1" || v.Right != "print" || len(p.Held) != 1 || p.Held[0].Seen != was || p.Held[0].Name != "Before" {
		t.Fatalf("%s: at the left %s, at the right %s; held %+v", v.Look, v.Left, v.Right, p.Held)
	}
	p.do(`{"do":"order","order":"mcy"}`)
	p.do(`{"do":"side","which":"right","id":"reference"}`)
	p.do(`{"do":"holdBefore"}`)
	if v := p.View; v.Left != "held-2" || v.Right != "print" || p.Held[1].Seen.Palette != "earth" || p.Held[1].Seen.Order != was.Order || p.Held[0].Seen != was || p.Held[1].Name != "Before 2" {
		t.Errorf("at the left %s, held %+v", v.Left, p.Held)
	}
	p.do(`{"do":"undo"}`)
	if len(p.Held) != 1 || p.View.Left == "held-2" {
		t.Errorf("undone, %d are held, and at the left stands %s", len(p.Held), p.View.Left)
	}
}
