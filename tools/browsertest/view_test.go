package browsertest

// view is what the page says of itself, as far as the tests read it.
type view struct {
	Station string            `json:"station"`
	Ready   bool              `json:"ready"`
	Pulls   map[string]string `json:"pulls"`
	Undo    string            `json:"undo"`
	Redo    string            `json:"redo"`
	Jobs    []struct {
		Words string  `json:"words"`
		Share float64 `json:"share"`
	} `json:"jobs"`
	Messages []message `json:"messages"`
	Layout   string    `json:"layout"`
	Ask      bool      `json:"ask"`
	Plates   []struct {
		Filter   string `json:"filter"`
		File     string `json:"file"`
		W        int    `json:"w"`
		H        int    `json:"h"`
		Polarity string `json:"polarity"`
	} `json:"plates"`
	Key        string `json:"key"`
	Registered string `json:"registered"`
	Register   struct {
		Rows []struct {
			Filter  string `json:"filter"`
			Printer string `json:"printer"`
			Key     bool   `json:"key"`
			Found   struct {
				DxPx float64 `json:"dxPx"`
				DyPx float64 `json:"dyPx"`
			} `json:"found"`
			Confidence float64 `json:"confidence"`
			Offset     offset  `json:"offset"`
		} `json:"rows"`
		Sentence string  `json:"sentence"`
		Sign     string  `json:"sign"`
		PxUm     float64 `json:"pxUm"`
		OnBench  struct {
			Sentence  string  `json:"sentence"`
			Sign      string  `json:"sign"`
			LargestUm float64 `json:"largestUm"`
		} `json:"onBench"`
	} `json:"register"`
	Selected string `json:"selected"`
	Tool     string `json:"tool"`
	Palettes []struct {
		ID     string `json:"id"`
		Name   string `json:"name"`
		Chosen bool   `json:"chosen"`
	} `json:"palettes"`
	Order  string   `json:"order"`
	Orders []string `json:"orders"`
	Look   string   `json:"look"`
	Looks  []struct {
		ID   string `json:"id"`
		Name string `json:"name"`
	} `json:"looks"`
	Zoom   float64 `json:"zoom"`
	Frames []frame `json:"frames"`
	Turns  []struct {
		Support string `json:"support"`
		Reads   string `json:"reads"`
	} `json:"turns"`
	Sample *struct {
		DE float64 `json:"dE"`
	} `json:"sample"`
}

// message is one of the page's words to the user; kind is "error" or "note".
type message struct {
	ID   int    `json:"id"`
	Kind string `json:"kind"`
	Text string `json:"text"`
}

// offset is a layer's offset on the print, in µm and in pixels of the scan.
type offset struct {
	DxUm       float64 `json:"dxUm"`
	DyUm       float64 `json:"dyUm"`
	DxPx       float64 `json:"dxPx"`
	DyPx       float64 `json:"dyPx"`
	TurnDeg    float64 `json:"turnDeg"`
	StretchPct float64 `json:"stretchPct"`
}

// frame is the place of one picture on the stage, in CSS pixels of the stage.
type frame struct {
	ID string  `json:"id"`
	X  float64 `json:"x"`
	Y  float64 `json:"y"`
	W  float64 `json:"w"`
	H  float64 `json:"h"`
}

// frame gives the place of one picture; ok is false where it is not shown.
func (v view) frame(id string) (found frame, ok bool) {
	for _, f := range v.Frames {
		if f.ID == id {
			return f, true
		}
	}
	return frame{}, false
}

// palette is the chosen palette's id.
func (v view) palette() string {
	for _, p := range v.Palettes {
		if p.Chosen {
			return p.ID
		}
	}
	return ""
}

// offset is the offset of the layer that a printer makes.
func (v view) offset(printer string) offset {
	for _, row := range v.Register.Rows {
		if row.Printer == printer {
			return row.Offset
		}
	}
	return offset{}
}

// errors lists the messages of errors.
func (v view) errors() []string {
	var texts []string
	for _, m := range v.Messages {
		if m.Kind == "error" {
			texts = append(texts, m.Text)
		}
	}
	return texts
}
