package browsertest

import (
	"fmt"
	"testing"
)

// brokenWords lists the words in sight that stand on two lines, not parted at a hyphen, a stroke
// or a place that the text itself allows, or that stick out of their box. Every panel of the drawer is measured, folded parts too.
const brokenWords = `(() => {` + unfold + `
	const found = [];
	const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	const range = document.createRange();
	for (let node = words.nextNode(); node; node = words.nextNode()) {
		const box = node.parentElement;
		if (box.closest("dialog, option, textarea, [translate=no], svg, .unseen") || !box.checkVisibility({visibilityProperty: true})) continue;
		for (const {0: word, index} of node.data.matchAll(/[^\s\u00ad\u200b\/·–—-]{3,}/g)) {
			range.setStart(node, index);
			range.setEnd(node, index + word.length);
			const rects = [...range.getClientRects()].filter(r => r.width > 0);
			if (rects.length === 0) continue;
			const lines = new Set(rects.map(r => Math.round(r.top / 4)));
			if (box.clientWidth === 1 && box.clientHeight === 1) continue; // for screen readers alone
			let block = box;
			while (getComputedStyle(block).display.startsWith("inline")) block = block.parentElement;
			const over = Math.max(...rects.map(r => r.right)) - block.getBoundingClientRect().right;
			if (lines.size > 1 || over > 1) found.push(word + (over > 1 ? " over the edge of " : " in ") + Math.round(box.getBoundingClientRect().width) + " px of " + (box.closest("[id]")?.id ?? "") + " " + box.tagName.toLowerCase() + (box.className && "." + box.className));
		}
	}
	fold();
	return [...new Set(found)];
})()`

// unfold shows every panel of the drawer with all that is folded; fold() puts that back.
const unfold = `
	const hidden = [...document.querySelectorAll("#drawer, #drawer .panel")].filter(e => e.hidden);
	const folded = [...document.querySelectorAll("#drawer details:not([open])")];
	for (const e of hidden) e.hidden = false;
	for (const e of folded) e.open = true;
	const fold = () => {
		for (const e of folded) e.open = false;
		for (const e of hidden) e.hidden = true;
	};`

// judgeUnfolded holds every panel of the drawer, folded parts too, against the rules of
// accessibility, where the page has axe-core.
func (p *page) judgeUnfolded(t *testing.T) {
	t.Helper()
	for _, fault := range eval[[]string](p, `(async () => {
		if (!window.axe) return [];`+unfold+`
		const { violations } = await axe.run("#drawer", { resultTypes: ["violations"], preload: false });
		fold();
		return violations.map((v) => v.id + ": " + v.nodes.map((n) => n.html.slice(0, 120)).slice(0, 4).join(", "));
	})()`) {
		t.Errorf("unfolded: %s", fault)
	}
}

// wantWholeWords has no word of the page broken in its middle, at the window's size.
func (p *page) wantWholeWords(t *testing.T, what string) {
	t.Helper()
	for _, word := range eval[[]string](p, brokenWords) {
		t.Errorf("%s: a word is broken: %s", what, word)
	}
}

// wholeWordsAt does so at several sizes of the window, where the head and the rail, too, are to
// hold all of their words.
func (p *page) wholeWordsAt(t *testing.T, sizes ...[2]int64) {
	t.Helper()
	for _, size := range sizes {
		p.resize(size[0], size[1])
		p.rest()
		p.wantWholeWords(t, fmt.Sprintf("%d × %d", size[0], size[1]))
		if cut := eval[[]string](p, `[...document.querySelectorAll("#rail :is(label, button, select, output)")].filter(e => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 0.5).map(e => e.textContent)`); len(cut) > 0 {
			t.Errorf("%d × %d: the rail is too long for %q", size[0], size[1], cut)
		}
		if over := eval[float64](p, `(e => e.scrollWidth - e.clientWidth)(document.getElementById("head"))`); over > 0 && size[0] > 640 {
			t.Errorf("%d × %d: the head is %.0f px too long", size[0], size[1], over)
		}
	}
}
