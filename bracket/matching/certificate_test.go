package matching

import (
	"slices"
	"strings"
	"testing"
)

// A triangle of heavy edges one vertex of which must stay single: its proof needs a set of three.
func TestCertificateThatDoesNotHold(t *testing.T) {
	edges := []Edge{{0, 1, 8}, {0, 2, 9}, {1, 2, 10}, {2, 3, 1}, {3, 4, 6}}
	tests := []struct {
		name   string
		change func(c *Certificate, mate []int)
		says   string
	}{
		{"a worse matching", func(_ *Certificate, mate []int) { mate[3], mate[4] = -1, -1 }, "is single and its dual"},
		{"partners that disagree", func(_ *Certificate, mate []int) { mate[1] = 0 }, "which is not matched with it"},
		{"a partner that is none", func(_ *Certificate, mate []int) { mate[1] = 6 }, "which is not matched with it"},
		{"a pair that is no edge", func(_ *Certificate, mate []int) {
			mate[0], mate[5] = 5, 0
		}, "is no edge or weighs less"},
		{"a negative dual", func(c *Certificate, _ []int) { c.Vertex[0] = -1 }, "vertex 0 is negative"},
		{"a dual too low", func(c *Certificate, _ []int) { c.Vertex[2]-- }, "weighs more than its duals"},
		{"a dual too high", func(c *Certificate, _ []int) { c.Vertex[2]++ }, "weighs less than its duals"},
		{"a set left out", func(c *Certificate, _ []int) { c.Sets = nil }, "weighs more than its duals"},
		{"a set with a negative dual", func(c *Certificate, _ []int) { c.Sets[0].Dual[0] = -2 }, "set 0 is negative"},
		{"a set that is not full", func(c *Certificate, _ []int) {
			c.Sets = append(c.Sets, OddSet{[]int{0, 1, 3}, []int64{2}})
		}, "set 1 has a dual and 3 vertices"},
		{"a vertex twice in a set", func(c *Certificate, _ []int) { c.Sets[0].Vertices[0] = c.Sets[0].Vertices[1] }, "there twice"},
		{"duals for another graph", func(c *Certificate, _ []int) { c.Vertex = c.Vertex[1:] }, "another number of vertices"},
		{"another bonus", func(c *Certificate, _ []int) { c.Bonus = 2 }, "another bonus"},
		{"enormous sums", func(c *Certificate, _ []int) {
			set := OddSet{[]int{0, 1, 2}, []int64{1 << 58}}
			c.Sets = []OddSet{set, set, set}
		}, "the duals of the sets around 0 and 0 are too large"},
		{"enormous duals", func(c *Certificate, _ []int) { c.Vertex[0] = 1 << 62 }, "too large"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			mate, proof, err := Prove(6, edges, false)
			if err != nil {
				t.Fatal(err)
			}
			if err := proof.Verify(6, edges, mate, false); err != nil || len(proof.Sets) != 1 {
				t.Fatalf("the certificate %+v: %v", proof, err)
			}
			mate = slices.Clone(mate)
			tt.change(&proof, mate)
			if err := proof.Verify(6, edges, mate, false); err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("the error is %v, want %q", err, tt.says)
			}
		})
	}
}

func TestCertificateForABadGraph(t *testing.T) {
	mate, proof, err := Prove(2, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	err = proof.Verify(2, []Edge{{0, 2, 1}}, mate, false)
	if err == nil || !strings.Contains(err.Error(), "edge 0: vertex 2 is not one of the 2") {
		t.Errorf("the error is %v", err)
	}
}
