package main

import (
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"benchmeet/api/auth"
)

// ownMounts tells a test that it runs where it may mount disks, see smallDisk.
const ownMounts = "BENCHMEET_TEST_OWN_MOUNTS"

// smallDisk is a disk of its own, in memory, of so many bytes. Mounting one takes rights
// that a developer's account lacks: then the test has run by itself elsewhere, as a
// process in a user namespace where it has them, and is over here.
func smallDisk(t *testing.T, bytes int) (folder string, over bool) {
	t.Helper()
	folder = t.TempDir()
	err := syscall.Mount("tmpfs", folder, "tmpfs", 0, fmt.Sprintf("size=%d", bytes))
	if errors.Is(err, syscall.EPERM) && os.Getenv(ownMounts) == "" {
		runInOwnNamespace(t)
		return "", true
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(folder, syscall.MNT_DETACH) })
	return folder, false
}

// runInOwnNamespace runs the test that asks as the root of a user namespace.
func runInOwnNamespace(t *testing.T) {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v", "-test.count=1")
	cmd.Env = append(os.Environ(), ownMounts+"=1")
	cmd.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
	}
	out, err := cmd.CombinedOutput()
	if err != nil || !strings.Contains(string(out), "--- PASS: "+t.Name()) {
		t.Fatalf("in a namespace of its own: %v\n%s", err, out)
	}
}

// TestAFullDisk: who orders, those at the desk, the log and the question of readiness
// are told in plain words; nothing that was acknowledged is lost; and where there is
// room again it goes on by itself.
func TestAFullDisk(t *testing.T) {
	disk, over := smallDisk(t, 4<<20)
	if over {
		return
	}
	var log heard
	w := newWired(t, "", func(o *serverOptions) {
		o.Data, o.Log = filepath.Join(disk, "data"), slog.New(slog.NewTextHandler(&log, nil))
	})
	w.smallMeet()
	w.do("PUT", meetPath+"/divisions/late", `{"name":"Late","age_from":0,"age_to":0,
		"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"knockout","race_s":10,"lanes":2}]}`)
	filler := filepath.Join(disk, "filler")
	for size := 1 << 20; size >= 512; size /= 2 { // to the last half kilobyte
		for f := size; f > 0; {
			file, err := os.OpenFile(filler, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
			if err != nil {
				t.Fatal(err)
			}
			_, err = file.Write(make([]byte, size))
			file.Close()
			if err != nil {
				break
			}
		}
	}
	stamps := make([]string, 2000)
	for i := range stamps {
		stamps[i] = fmt.Sprint(1_000_000 + i*7919)
	}
	chunk := func(n int) request {
		return request{
			role: auth.Box, method: "POST", path: "/api/v1/benches/b1/chunks",
			body: fmt.Sprintf(`{"boot":"00000000000000aa","run":"r%d","number":0,"stamps_us":[%s]}`, n, strings.Join(stamps, ",")),
		}
	}
	kept, no := 0, answer{}
	for n := range 2000 {
		if no = w.send(chunk(n)); no.status != http.StatusOK {
			break
		}
		kept++
	}
	if no.status != http.StatusInsufficientStorage || no.problem.Code != "disk-full" ||
		!strings.Contains(no.problem.Detail, "Free some space") {
		t.Fatalf("after %d chunks: %d %s", kept, no.status, no.body)
	}
	if _, told := w.decisions()["disk-full"]; !told {
		t.Error("the desk is not told")
	}
	for range 5 {
		w.send(chunk(5000))
	}
	if n := strings.Count(log.String(), "nothing can be kept"); n != 1 {
		t.Errorf("the log says it %d times: %s", n, log.String())
	}
	for n := range kept { // acknowledged is kept
		if a := w.send(chunk(n)); a.status != http.StatusOK && a.problem.Code != "disk-full" {
			t.Errorf("chunk %d: %d %s", n, a.status, a.body)
		}
	}
	entry := func(n int) request {
		return request{
			role: auth.Organiser, method: "POST", path: meetPath + "/entries", body: fmt.Sprintf(`{"id":"late-%d","division":"late","start_number":%d,
				"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, n, 100+n, n, n),
		}
	}
	given := 0
	for ; given < 300; given++ { // the log's file may have some room in itself
		if no = w.send(entry(given)); no.status != http.StatusCreated {
			break
		}
	}
	if no.status != http.StatusInsufficientStorage || no.problem.Code != "disk-full" {
		t.Fatalf("after %d orders: %d %s", given, no.status, no.body)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	if a := w.send(entry(given)); a.status != http.StatusCreated {
		t.Errorf("the order that found no room, given again: %d %s", a.status, a.body)
	}
	w.within(10*time.Second, func() bool { return w.send(chunk(5000)).status == http.StatusOK })
}

// TestAReadOnlyDisk: the start says what to do, and a copy that is whole is read all the
// same, from a stick that is locked.
func TestAReadOnlyDisk(t *testing.T) {
	disk, over := smallDisk(t, 16<<20)
	if over {
		return
	}
	data := filepath.Join(disk, "data")
	w := newWired(t, "", func(o *serverOptions) { o.Data = data })
	w.smallMeet()
	if err := w.server.Close(); err != nil {
		t.Fatal(err)
	}
	locked := func(is bool) {
		flags := uintptr(syscall.MS_REMOUNT)
		if is {
			flags |= syscall.MS_RDONLY
		}
		if err := syscall.Mount("tmpfs", disk, "tmpfs", flags, ""); err != nil {
			t.Fatal(err)
		}
	}
	locked(true)
	code, _, said := runHere(t, "serve", "--listen", "127.0.0.1:0", "--data", data)
	if code == 0 || !strings.Contains(said, "may be read and not written") ||
		!strings.Contains(said, "make its disk and its folder writable") {
		t.Errorf("serve: %d %s", code, said)
	}
	if code, out, said := runHere(t, "verify", "--data", data); code != exitDone {
		t.Errorf("verify: %d %s %s", code, out, said)
	}
	locked(false)
	if err := os.WriteFile(filepath.Join(data, "benchmeet.db-wal"), []byte("events that are not in the file"), 0o600); err != nil {
		t.Fatal(err)
	}
	locked(true)
	if code, _, said := runHere(t, "verify", "--data", data); code == exitDone || !strings.Contains(said, "copy both") {
		t.Errorf("verify with events in the log beside it: %d %s", code, said)
	}
	locked(false)
}

// TestARunThatLacksStampsIsToBeDecided: its end has come and a part has not; the desk is
// told after a while, with what can be done, and no more once the part has come.
func TestARunThatLacksStampsIsToBeDecided(t *testing.T) {
	var clock shifted
	w := newWired(t, "", func(o *serverOptions) { o.Clock = clock.now })
	w.smallMeet()
	h := w.startFirstHeat()
	bench, run := *h.Lanes[0].Bench, *h.Lanes[0].Armed
	part := func(number int, rest string) string {
		return fmt.Sprintf(`{"boot":"00000000000000aa","run":%q,"number":%d,"stamps_us":[%d,%d]%s}`,
			run, number, 1_000_000+number*20_000, 1_010_000+number*20_000, rest)
	}
	last := `,"last":{"chunks":3,"stamps":6,"start_source":"bench_clock","start_us":1000000,"duration_us":10000000,"meet":"spring"}`
	for _, body := range []string{part(0, ""), part(2, last)} {
		if a := w.send(request{role: auth.Box, method: "POST", path: "/api/v1/benches/" + bench + "/chunks", body: body}); a.status != 200 {
			t.Fatalf("%d %s", a.status, a.body)
		}
	}
	w.within(15*time.Second, func() bool { return len(w.server.intake.Incomplete("harbour")) == 1 })
	if _, told := w.decisions()["incomplete-run"]; told {
		t.Error("the desk is told at once, while the part may be on its way")
	}
	clock.set(time.Minute)
	d, told := w.decisions()["incomplete-run"]
	if !told || *d.Heat != h.Id || d.Racer.Entry != h.Lanes[0].Racer.Entry || *d.Bench != bench {
		t.Errorf("the desk is told %v of %+v", told, d)
	}
	late := request{role: auth.Box, method: "POST", path: "/api/v1/benches/" + bench + "/chunks", body: part(1, "")}
	if a := w.send(late); a.status != 200 {
		t.Fatalf("%d %s", a.status, a.body)
	}
	w.within(20*time.Second, func() bool {
		return len(w.server.intake.Incomplete("harbour")) == 0 && w.heat(h.Id).Lanes[0].Run != nil
	})
	if _, still := w.decisions()["incomplete-run"]; still {
		t.Error("the desk is told of a run that is recorded")
	}
}
