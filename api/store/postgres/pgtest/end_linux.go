package pgtest

import "syscall"

// endWithParent has the kernel stop the server when the test program is killed.
func endWithParent(a *syscall.SysProcAttr) { a.Pdeathsig = syscall.SIGQUIT }
