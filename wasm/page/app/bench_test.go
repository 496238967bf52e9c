package app

import "testing"

func benchmarkFrame(b *testing.B, command string) {
	p := opened(b)
	b.ReportAllocs()
	for b.Loop() {
		p.do("%s", command)
		if _, err := p.Model(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPan(b *testing.B) { benchmarkFrame(b, `{"do":"pan","dx":0.01,"dy":0}`) }

func BenchmarkNudge(b *testing.B) {
	benchmarkFrame(b, `{"do":"nudgeBy","printer":"cyan","dxUm":0.01,"dyUm":0,"gesture":"g"}`)
}
