package measure
import ("testing";"fmt";"benchmeet/domain/simulate")
func TestDbg(t *testing.T){
 for _,i:=range []int{652,658,693,706,779,834,584,927,782,609,633,707}{
  p:=randomTrain(i); tr:=simulate.Run(p)
  k,_:=New(Setup{Bench:Bench{CircumferenceMM:94.25}})
  fmt.Println("train",i,tr.Truth.FirstFault,"rpm",p.RPM,"tau",p.TauS)
  var prev int64
  prevStep:=int64(0)
  for j,s:=range tr.Stamps { 
    sk:=k.seeking
    k.Add(s)
    if j<24 {fmt.Print(s-prev," ")}
    if sk&&!k.seeking {fmt.Printf("\n  locked at %d steps %d pred %.0f trend %.0f\n   ",j,k.steps,k.pred,k.trend)}
    if !sk&&k.seeking {fmt.Printf("\n  LOST at %d steps %d gap %d pred %.0f\n",j,k.steps,s-prev,k.pred)}
    prev=s; _=prevStep}
  m:=k.Finish(NoEnd)
  fmt.Println("\n turns",m.Turns,"true",tr.Truth.Passes,"extra",m.Extra,tr.Truth.Doubles,"bridged",m.Bridged,tr.Truth.Misses,"open",m.Open)
  n:=0
  for _,c:=range m.Corrections { if n<8 {fmt.Print(c.AtUS-tr.Stamps[0],c.Kind," ")}; n++}
  fmt.Println()
 }
}
