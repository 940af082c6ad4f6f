package sqlite

import (
	"context"
	"database/sql"
)

// keys are the tokens that are out and the sessions that were made with them.
type keys struct{ in *Store }

// asked are the questions that every request asks: prepared, since reading one anew takes
// SQLite longer than answering it. They are closed with the connections that they stand on.
type asked struct{ tokenByHash, sessionByHash *sql.Stmt }

func askedOf(ctx context.Context, reading *sql.DB) (a asked, err error) {
	if a.tokenByHash, err = reading.PrepareContext(ctx, tokenByHash); err != nil { //nolint:sqlclosecheck // see asked
		return asked{}, err
	}
	a.sessionByHash, err = reading.PrepareContext(ctx, sessionByHash) //nolint:sqlclosecheck // see asked
	return a, err
}
