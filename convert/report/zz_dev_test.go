package report

import (
	"context"
	"encoding/csv"
	"fmt"
	"github.com/xuri/excelize/v2"
	"lapwright/convert/drawing"
	"lapwright/convert/survey"
	"lapwright/engine"
	"os"
	"strconv"
	"testing"
	"time"
)

func exampleBook(t *testing.T, n int) string {
	f := excelize.NewFile()
	f.SetDefaultFont("Arial")
	for _, s := range []string{"job", "walls", "openings", "rules", "declared"} {
		name := string(s[0]-32) + s[1:]
		f.NewSheet(name)
		h, err := os.Open("../../templates/example/" + s + ".csv")
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(h).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		r := 0
		for k := 0; k < n; k++ {
			for i, row := range rows {
				if i == 0 && k > 0 {
					continue
				}
				if k > 0 && s != "walls" && s != "openings" {
					continue
				}
				r++
				for c, v := range row {
					cell, _ := excelize.CoordinatesToCellName(c+1, r)
					if i > 0 && n > 1 && c == 0 && (s == "walls" || s == "openings") {
						v = "P" + strconv.Itoa(k+1)
					}
					if x, e := strconv.ParseFloat(v, 64); e == nil {
						f.SetCellValue(name, cell, x)
					} else if v != "" {
						f.SetCellValue(name, cell, v)
					}
				}
			}
		}
		if s == "openings" {
			f.SetCellValue(name, "E3", 99999)
		}
	}
	f.DeleteSheet("Sheet1")
	if err := f.SaveAs("/tmp/mine/survey.xlsx"); err != nil {
		t.Fatal(err)
	}
	return "/tmp/mine/survey.xlsx"
}
func TestDev(t *testing.T) {
	n := 1
	if s := os.Getenv("N"); s != "" {
		n, _ = strconv.Atoi(s)
	}
	path := exampleBook(t, n)
	s, err := survey.Read(context.Background(), path, survey.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t0 := time.Now()
	res, err := engine.Takeoff(context.Background(), s.Job)
	if err != nil {
		t.Fatal(err)
	}
	t.Log("takeoff", time.Since(t0), len(res.Walls))
	res.Flags = append(s.Flags, res.Flags...)
	if os.Getenv("HAND") != "" {
		for i := range res.Walls {
			if i == 1 {
				res.Walls[i].Quantity = 3
				res.Walls[i].Mirrored = 1
			}
		}
	}
	data, _ := os.ReadFile(path)
	in := Input{Result: res, Survey: data, SurveyName: "survey.xlsx", Version: "0.1", Digest: s.Digest, Rows: Rows{15, 14, 1, 0}}
	if os.Getenv("NOSURVEY") != "" {
		in.Survey = nil
	}
	f, _ := os.Create("/tmp/mine/dev.xlsx")
	t0 = time.Now()
	if err := Write(context.Background(), f, in); err != nil {
		t.Fatal(err)
	}
	f.Close()
	st, _ := os.Stat("/tmp/mine/dev.xlsx")
	t.Log("write", time.Since(t0), st.Size())
	d := drawing.New()
	for i := range res.Walls {
		if i > 5 {
			break
		}
		t0 := time.Now()
		p, err := d.Elevation(&res.Walls[i], drawing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Log(res.Walls[i].Name, time.Since(t0), len(p.PNG), p.Width, p.Height)
		os.WriteFile(fmt.Sprintf("/tmp/mine/wall%d.png", i), p.PNG, 0o644)
	}
}
