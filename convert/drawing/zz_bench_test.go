package drawing
import ("testing";"lapwright/engine";"lapwright/engine/measure")
func BenchmarkX(b *testing.B){ w:=engine.WallResult{Outline:measure.Rect(measure.Span{Hi:measure.MM(8000)},measure.Span{Hi:measure.MM(4800)})}
 for i:=range 34 { z:=int64(150+135*i); w.Courses=append(w.Courses,engine.Course{Number:i+1,Bottom:measure.MM(z),Top:measure.MM(z+175),Gauge:measure.MM(135)})
  for k:=range 4 { w.Pieces=append(w.Pieces,engine.Piece{Course:i+1,Mark:"A1.2",Outline:measure.Rect(measure.Span{Lo:measure.MM(int64(k)*2000),Hi:measure.MM(int64(k+1)*2000-2)},measure.Span{Lo:measure.MM(z),Hi:measure.MM(z+175)})})}}
 for x:=range 14 { w.Battens=append(w.Battens,engine.Batten{Centre:measure.MM(int64(25+600*x)),Width:measure.MM(50),Z:measure.Span{Lo:measure.MM(150),Hi:measure.MM(4790)}})}
 d:=New(); for b.Loop(){ if _,err:=d.Elevation(&w,Options{});err!=nil{b.Fatal(err)}}}
