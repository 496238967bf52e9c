package browsertest

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
)

// hugePNG is a PNG whose header claims 40,000 × 40,000 pixels of 16 bits and which
// holds next to nothing (chunks as in PNG, third edition, W3C 2025, section 5).
func hugePNG() []byte {
	var out bytes.Buffer
	out.WriteString("\x89PNG\r\n\x1a\n")
	header := binary.BigEndian.AppendUint32(nil, 40000)
	header = binary.BigEndian.AppendUint32(header, 40000)
	header = append(header, 16, 0, 0, 0, 0) // depth, grey, deflate, filter, not interlaced
	chunk(&out, "IHDR", header)
	chunk(&out, "IDAT", []byte{0x78, 0x9c, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01})
	chunk(&out, "IEND", nil)
	return out.Bytes()
}

func chunk(out *bytes.Buffer, kind string, data []byte) {
	binary.Write(out, binary.BigEndian, uint32(len(data)))
	body := append([]byte(kind), data...)
	out.Write(body)
	binary.Write(out, binary.BigEndian, crc32.ChecksumIEEE(body))
}
