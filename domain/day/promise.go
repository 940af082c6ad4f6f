package day

// maxRunsPromised bounds Rules.RunsAtLeast.
const maxRunsPromised = 50
