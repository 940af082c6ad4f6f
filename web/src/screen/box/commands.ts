/**
 * The commands of the builder's page, as they are typed; a test runs each one that says nothing else, with an emulated
 * board at the port.
 */
export const port = '/dev/ttyUSB0';
const at = `--serial ${port}`;

export const commands = {
  sums: 'sha256sum --ignore-missing -c SHA256SUMS',
  load: `sh load.sh ${port}`,
  find: 'benchmeet node --find',
  show: `benchmeet node ${at} --set show`,
  four: `benchmeet node ${at} --set "inputs 4" --set show`,
  high: `benchmeet node ${at} --set "mark 1 high"`,
  name: `benchmeet node ${at} --set "bench 1 b1" --set "marks 1 1"`,
  restart: `benchmeet node ${at} --set restart`,
  count: `benchmeet node ${at} --count`,
  roll: `benchmeet node ${at} --count --rolled 1885 --within 1`,
  check: `benchmeet node ${at} --check`,
  one: `benchmeet node --server http://192.0.2.7:8080 --bench b1 ${at}`,
  several: `benchmeet node --server http://192.0.2.7:8080 --bench b1,b2,b3,b4 ${at}`,
};
export type Command = keyof typeof commands;

/** Other systems, which are not here to run them: how their lines differ. */
export const elsewhere = {
  macOS: { sums: 'shasum -a 256 -c SHA256SUMS', load: 'sh load.sh /dev/cu.usbserial-10', port: '/dev/cu.usbserial-10' },
  Windows: { sums: 'certutil -hashfile counterbox.hex SHA256', load: 'load.cmd COM3', port: 'COM3' },
};

/** What is sent to the box with --set, as in deploy/counterbox/README.md. */
export const settings = {
  show: 'show',
  inputs: 'inputs 1 … 4',
  pin: 'pin INPUT 0 … 5',
  mark: 'mark INPUT low | high',
  marks: 'marks INPUT 1 … 16',
  bench: 'bench INPUT NAME',
  baud: 'baud 115200 | 250000 | 500000 | 1000000',
  restart: 'restart',
};
export type Setting = keyof typeof settings;
