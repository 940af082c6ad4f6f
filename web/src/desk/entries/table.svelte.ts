import type { Schema } from '$lib/api';

type Fault = Schema['EntryTableFault'];
export type Means = Schema['EntryTableColumn']['means'];

/** Row is a row as the page has it: its cells may be put right, and it stays where it was first shown. */
export interface Row {
  readonly key: number;
  readonly line: number;
  cells: string[];
  faults: readonly Fault[];
  number: number | undefined;
  entry: Schema['EntryTableEntry'] | undefined;
  /** Its cells are fields: it was wrong, or somebody wants to change it. */
  open: boolean;
}

/** TableDraft is a list on its way to being entered. It outlives the page that shows it. */
export class TableDraft {
  text = $state('');
  division = $state('');
  heads = $state<string[]>([]);
  means = $state<Means[]>([]);
  rows = $state<Row[]>([]);
  faults = $state.raw<readonly Fault[]>([]);
  notes = $state.raw<readonly Fault[]>([]);
  /** Whether there is something that was looked at. */
  looked = $state(false);
  taken = $state(0);

  readonly bad = $derived(this.rows.filter((row) => row.faults.length > 0).length);
  readonly ready = $derived(this.looked && this.rows.length > 0 && this.bad === 0 && this.faults.length === 0);

  /** clear is for another list. */
  clear(): void {
    [this.text, this.heads, this.means, this.rows] = ['', [], [], []];
    [this.faults, this.notes, this.looked] = [[], [], false];
  }

  /** body is the list as it stands, to be looked at or taken. */
  get body(): Schema['EntryTableBody'] {
    const rows = this.rows.map(({ line, cells }) => ({ line, cells: [...cells] }));
    return { heads: [...this.heads], rows, ...(this.division && { division: this.division }) };
  }

  /** source is a text or a file, to be looked at for the first time. */
  source(bytes: Uint8Array): Schema['EntryTableBody'] {
    return { file: base64(bytes), ...(this.division && { division: this.division }) };
  }

  /** begin shows a list that was read for the first time: the wrong rows first. */
  begin(table: Schema['EntryTable']): void {
    if (table.text !== undefined) this.text = table.text;
    this.heads = table.columns.map((column) => column.head);
    this.rows = table.rows
      .map((row, key) => ({
        key,
        line: row.line,
        cells: row.cells,
        faults: row.faults,
        number: row.start_number,
        entry: row.entry,
        open: row.faults.length > 0,
      }))
      .toSorted((a, b) => Number(b.open) - Number(a.open));
    this.#show(table);
    this.#number();
  }

  /** again shows what came of looking at the same rows again; none of them moves. */
  again(table: Schema['EntryTable'], asked: readonly number[]): void {
    const answers = new Map(asked.map((key, i) => [key, table.rows[i]]));
    for (const row of this.rows) {
      const answer = answers.get(row.key);
      if (answer) [row.faults, row.entry, row.number] = [answer.faults, answer.entry, answer.start_number];
    }
    this.#show(table);
    this.#number();
  }

  /** put changes one cell; a row with too few cells gets those that it lacks. */
  put(row: Row, at: number, text: string): void {
    while (row.cells.length < Math.max(this.heads.length, at + 1)) row.cells.push('');
    row.cells[at] = text;
  }

  leaveOut(row: Row): void {
    this.rows = this.rows.filter((other) => other !== row);
  }

  #show(table: Schema['EntryTable']): void {
    this.means = table.columns.map((column) => column.means);
    [this.faults, this.notes, this.looked] = [table.faults, table.notes, true];
  }

  /** #number writes down the numbers that rows would get, so that what is taken is what was looked at. */
  #number(): void {
    if (this.rows.length === 0) return;
    let at = this.means.indexOf('number');
    if (at < 0) {
      at = 0;
      this.heads = ['number', ...this.heads];
      this.means = ['number', ...this.means];
      const further = (fault: Fault) => ({ ...fault, column: fault.column + 1 });
      for (const row of this.rows) {
        row.cells = ['', ...row.cells];
        row.faults = row.faults.map(further);
      }
    }
    for (const row of this.rows) {
      const whole = row.cells.length === this.heads.length;
      if (row.number !== undefined && whole && !row.cells[at]!.trim()) row.cells[at] = String(row.number);
    }
  }
}

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 4096) text += String.fromCharCode(...bytes.subarray(i, i + 4096));
  return btoa(text);
}

const drafts = new Map<string, TableDraft>();

/** draftOf is the list that is being taken into a meet. It is kept in this tab's memory alone: it holds names. */
export function draftOf(meet: string): TableDraft {
  const draft = drafts.get(meet) ?? new TableDraft();
  drafts.set(meet, draft);
  return draft;
}
