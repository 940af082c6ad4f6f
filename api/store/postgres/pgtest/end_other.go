//go:build !linux

package pgtest

import "syscall"

// endWithParent does nothing where the kernel has no such service.
func endWithParent(*syscall.SysProcAttr) {}
