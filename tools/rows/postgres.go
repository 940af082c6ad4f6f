package rows

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Postgres is two tables of a database, and a queue a stream: whoever waits for a stream
// shares a transaction, which is one message to the database and one back.
type Postgres struct {
	pool    *pgxpool.Pool
	streams []*queue
}

// queue is what waits for a stream.
type queue struct {
	name    string
	mu      sync.Mutex
	waiting []chan error
	busy    bool
	seq     int64
}

// OpenPostgres makes the tables in an empty database, for so many streams.
func OpenPostgres(ctx context.Context, url string, streams int) (*Postgres, error) {
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, err
	}
	config.MaxConns = 24
	config.ConnConfig.RuntimeParams["synchronous_commit"] = "on"
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, err
	}
	_, err = pool.Exec(ctx, `
		CREATE TABLE clubs (club_id text COLLATE "C" PRIMARY KEY);
		INSERT INTO clubs VALUES ('club');
		CREATE TABLE events (
			club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id), stream text COLLATE "C" NOT NULL,
			seq bigint NOT NULL CHECK (seq > 0), bytes bytea NOT NULL, hash bytea NOT NULL CHECK (length(hash) = 32),
			PRIMARY KEY (club_id, stream, seq));
		CREATE TABLE answers (
			club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id), stream text COLLATE "C" NOT NULL,
			command text COLLATE "C" NOT NULL, content bytea NOT NULL CHECK (length(content) = 32), body bytea NOT NULL,
			PRIMARY KEY (club_id, stream, command))`)
	if err != nil {
		pool.Close()
		return nil, err
	}
	p := &Postgres{pool: pool}
	for n := range streams {
		p.streams = append(p.streams, &queue{name: fmt.Sprint("stream-", n)})
	}
	return p, nil
}

// Close ends it.
func (p *Postgres) Close() { p.pool.Close() }

// Write writes an event and an answer, and returns when they are on disk.
func (p *Postgres) Write(ctx context.Context, stream int) error {
	q, done := p.streams[stream], make(chan error, 1)
	q.mu.Lock()
	q.waiting = append(q.waiting, done)
	if !q.busy {
		q.busy = true
		go p.work(ctx, q)
	}
	q.mu.Unlock()
	return <-done
}

// work writes what waits for a stream until nothing does.
func (p *Postgres) work(ctx context.Context, q *queue) {
	for {
		q.mu.Lock()
		all := q.waiting
		q.waiting, q.busy = nil, len(all) > 0
		q.mu.Unlock()
		if len(all) == 0 {
			return
		}
		err := p.write(ctx, q, len(all))
		for _, done := range all {
			done <- err
		}
	}
}

func (p *Postgres) write(ctx context.Context, q *queue, rows int) error {
	var (
		seqs                            []int64
		commands                        []string
		texts, hashes, contents, bodies [][]byte
	)
	for range rows {
		q.seq++
		seqs, commands = append(seqs, q.seq), append(commands, command(q.seq))
		texts, hashes = append(texts, filled(eventSize)), append(hashes, filled(32))
		contents, bodies = append(contents, filled(32)), append(bodies, filled(answerSize))
	}
	var batch pgx.Batch
	batch.Queue(`SELECT pg_advisory_xact_lock(hashtext($1))`, q.name)
	batch.Queue(`
		INSERT INTO events
		SELECT 'club', $1::text, * FROM unnest($2::bigint[], $3::bytea[], $4::bytea[])`,
		q.name, seqs, texts, hashes)
	batch.Queue(`
		INSERT INTO answers
		SELECT 'club', $1::text, * FROM unnest($2::text[], $3::bytea[], $4::bytea[])`,
		q.name, commands, contents, bodies)
	sent := p.pool.SendBatch(ctx, &batch)
	var err error
	for range batch.Len() {
		_, one := sent.Exec()
		err = errors.Join(err, one)
	}
	return errors.Join(err, sent.Close())
}
