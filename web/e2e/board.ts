import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const folder = fileURLToPath(new URL('../../deploy/counterbox', import.meta.url));
const cyclesPerS = 16_000_000;

/** Board is the counter box's own program on an emulated board, at a serial line. */
export class Board {
  private constructor(
    private readonly process: ChildProcess,
    readonly line: string,
  ) {}

  static async powerOn(): Promise<Board> {
    execFileSync('make', ['-s', '-C', folder, 'all']);
    const board = spawn(join(folder, 'build/board'), ['--pty', join(folder, 'build/counterbox.elf')]);
    board.stdin.on('error', () => undefined); // it may be switched off meanwhile
    const line = await new Promise<string>((found, failed) => {
      board.stderr.on('data', (text: Buffer) => {
        const said = /pty (\S+)/.exec(text.toString());
        if (said) found(said[1]!);
      });
      board.on('exit', (code) => failed(new Error(`the board ended with ${code}`)));
    });
    return new Board(board, line);
  }

  /** turn lets the roller at a sensor, from 1, turn so often from now on, with one mark. */
  turn(sensor: number, rpm: number, turns: number): void {
    this.process.stdin!.write(`0 roll ${sensor - 1} ${Math.round((cyclesPerS * 60) / rpm)} ${turns}\n`);
  }

  async powerOff(): Promise<void> {
    this.process.removeAllListeners('exit');
    if (this.process.exitCode !== null) return;
    const ended = new Promise((done) => this.process.once('exit', done));
    this.process.kill('SIGTERM');
    await ended;
  }
}
