package view

import "time"

// Expire has a club's names be as old as a directory keeps them unasked.
func Expire(d *Directory, club string) {
	p := d.page(club)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.at = time.Now().Add(-keepNames)
}
