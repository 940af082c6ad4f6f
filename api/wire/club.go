package wire

import (
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// ShowClub shows a club of the server.
func ShowClub(c store.Club) gen.Club {
	return gen.Club{Short: c.ID, Name: c.Name, Host: Opt(c.Host), Invited: OptInstant(c.InvitedUS)}
}
