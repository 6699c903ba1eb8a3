package cutting

import "context"

// meter counts work and says when to stop: at the limit, or when the context
// is done. Only the context can make two runs differ.
type meter struct {
	ctx   context.Context
	work  int64
	limit int64
	next  int64 // work at which to look at the context again
	dead  bool
}

const contextEvery = 2_000_000

// spend adds n units and reports whether work may go on.
func (m *meter) spend(n int) bool {
	m.work += int64(n)
	if m.work >= m.next && !m.dead {
		m.next = m.work + contextEvery
		m.dead = m.ctx.Err() != nil
	}
	return !m.dead && m.work < m.limit
}

func (m *meter) stopped() bool { return m.dead || m.work >= m.limit }
