import { format as f } from '../format';

/** What is measured of the program, see src/screen/box/measured.ts. */
interface Measured {
  apartUs: number;
  pulseUs: number;
  quickest: number;
  fullOneMark: number;
  fullFourMarks: number;
}

/**
 * The page for who builds a counter box. What is said of currents, voltages and lengths is reckoned from the values
 * that stand beside it, or marked as common practice.
 */
export const box = {
  title: 'Build a counter box',
  seen: 'From a sensor at a roller to a number on the screen: parts, wiring, first test and faults',
  print: 'Print this page',
  footPage: 'page ',
  footOf: ' of ',
  lead: 'A counter box is a small board with a sensor at each roller. It stamps each turn with a clock of its own and sends it over a USB cable. Nothing has to be compiled, and nothing is soldered that cannot be plugged on a board with holes first.',

  care: 'First: keep it safe',
  careSays: [
    'Low voltage only: everything here runs from the 5 V of a USB port. Nothing of it is ever connected to the mains.',
    'A supply of the rollers or of the box has a fuse in its lead, next to where the current comes from: 500 mA is enough for a box.',
    'Rollers have guards over their gaps. Fingers, hair, cords and sleeves stay away; nobody bends over a running roller.',
    'No loose cable lies over a floor or hangs from a table: tape it down or lead it along the wall.',
    'A mark is painted or taped flat. Never glue a magnet or a piece of metal on a roller: at 25,000 turns a minute one gram at 15 mm from the axle pulls with the weight of 10 kg.',
    'Local rules come before this page, and whoever is not sure asks somebody who is qualified.',
  ],

  parts: 'Parts',
  partsCaption: 'Parts for one box with one sensor',
  part: 'What',
  many: 'How many',
  matters: 'What matters',
  partList: [
    [
      '8-bit board with a USB socket',
      '1',
      '5 V, 16 MHz, 32 kB for the program, 2 kB of memory. Four sensors are the most. The ready image is for this kind.',
    ],
    [
      'Reflective optical sensor',
      '1 a bench',
      'An infrared lamp and a phototransistor in one housing, for a distance of 2 to 6 mm.',
    ],
    ['Resistor 220 Ω', '1 a bench', 'In line with the lamp, at 5 V. At 3.3 V it is 120 Ω.'],
    ['Resistor 4.7 kΩ', '1 a bench', 'From the phototransistor’s collector to the supply.'],
    ['Schmitt gate, inverting', '1 a bench', 'CMOS for 5 V; one housing has six. It makes clean edges of slow ones.'],
    ['Resistor 1 kΩ', '1 a bench', 'In line with the box’s input.'],
    ['Capacitor 1 nF', '1 a bench', 'From the box’s input to ground, at the board.'],
    ['Capacitor 100 nF', '1 a bench', 'Across the supply, at the sensor.'],
    ['Lead with three wires', '1 a bench', 'At most 2 m, twisted or with a screen; plugs that lock.'],
    ['USB cable that carries data', '1', 'At most 5 m. Some cables charge only: those find no port.'],
    ['Push button', '1, if wanted', 'To ground: the start signal.'],
  ] as [string, string, string][],

  wiring: 'Where things stand',
  oneBench: 'One bench',
  oneBenchSays:
    'The box sits at the bench, the computer beside it. The cable between them is at most 5 m long: that is the longest that USB allows.',
  fourBenches: 'Four benches on a table',
  fourBenchesSays:
    'One box serves four sensors. The leads to the sensors are short and run away from the motors; one cable goes to one computer, and one node serves all four benches.',
  tenBenches: 'Ten benches in a hall',
  tenBenchesSays:
    'A hall is longer than a USB cable. Each table has its box and a small computer with a node; from there a network cable (up to 100 m) or the Wi-Fi goes to the server. What the network drops stays on the table’s disk until it is handed in.',
  drawn: {
    roller: 'roller',
    mark: 'mark',
    sensor: 'sensor',
    box: 'counter box',
    usb: 'USB, at most 5 m',
    lead: 'lead, at most 2 m',
    computer: 'computer with a node',
    node: 'computer',
    server: 'server',
    network: 'network cable or Wi-Fi',
    table: (n: number) => `table ${f.number(n)}`,
    bench: (n: number) => `bench ${f.number(n)}`,
    ground: 'ground',
    lamp: 'infrared lamp',
    eye: 'phototransistor',
    gate: 'Schmitt gate',
    pin: 'input of the board',
    shade: 'dark tube',
    earth: 'axle to earth over 1 MΩ',
  },

  circuit: 'The circuit of one sensor',
  circuitSays:
    'The lamp shines on the roller. Where the mark throws the light back, the phototransistor pulls its collector down; the gate turns that over, so at the board a mark is high.',
  values: 'Values for 5 V and for 3.3 V',
  value: 'Part',
  at5: 'Box of 5 V',
  at33: 'Box of 3.3 V',
  valueList: [
    ['In line with the lamp', '220 Ω (17 mA)', '120 Ω (17 mA)'],
    ['Collector to the supply', '4.7 kΩ', '4.7 kΩ'],
    ['In line with the input', '1 kΩ', '1 kΩ'],
    ['Input to ground', '1 nF', '1 nF'],
    ['Across the supply at the sensor', '100 nF', '100 nF'],
    ['Pull-up in the board, switched on by the program', '20 to 50 kΩ', 'as its data sheet says'],
    ['Pull-up of your own, for a lead over half a metre', '4.7 kΩ to 5 V', '4.7 kΩ to 3.3 V'],
  ] as [string, string, string][],
  voltage:
    'The 8-bit board of this page is one of 5 V: feed sensor and gate with 5 V too. It takes 3 V and more as high, so a sensor of 3.3 V only just reaches it. The other way round, 5 V never goes into a board of 3.3 V: put 10 kΩ in line and 20 kΩ to ground (5 V become 3.3 V), or take an output with an open collector and pull it up to 3.3 V.',

  kinds: 'Other sensors',
  kind: 'Output',
  wire: 'How it is wired',
  polarity: 'What to set',
  kindList: [
    [
      'Bare phototransistor with a Schmitt gate (the circuit above)',
      'Output of the gate, over 1 kΩ, to the input',
      'mark 1 high',
    ],
    ['The same with two gates in a row', 'Output of the second gate', 'mark 1 low, as it comes'],
    [
      'Open collector (NPN), as of many finished sensors',
      'Straight to the input, over 1 kΩ; the pull-up of the board does the rest',
      'mark 1 low, as it comes',
    ],
    ['Push-pull of 5 V', 'To the input, over 1 kΩ', 'low or high: what a meter shows at the mark'],
    [
      'Fork that the mark or a disc interrupts',
      'As its output is, see above',
      'low or high: what a meter shows while it is interrupted',
    ],
    [
      'Output of 12 or 24 V (PNP)',
      'Never straight to a board. Take another sensor, or ask somebody qualified for a divider or an optocoupler.',
      'after the meter',
    ],
  ] as [string, string, string][],

  input: 'What the input bears, and the shortest pulse',
  inputSays: (m: Measured) => [
    `A mark counts if it is seen for more than ${f.number(m.pulseUs)} µs and the gap behind it lasts as long. At ${f.number(m.quickest)} turns a minute a turn takes 2,400 µs, so that is 4 degrees of the roller; with the slow edges of a phototransistor take 30 degrees or more.`,
    `Two stamps lie as far apart as their edges within ${f.number(m.apartUs)} µs. A run is timed over thousands of them, so its speed is far more exact than that.`,
    `Four rollers at ${f.number(m.quickest)} turns a minute lose nothing at 1,000,000 baud: the line is at most ${f.number(m.fullOneMark)} % full with one mark each, ${f.number(m.fullFourMarks)} % with four marks. What does not fit is counted all the same, and the run says that passes are missing.`,
    '1 kΩ and 1 nF smooth over 1 µs: that swallows the spikes of motor brushes and delays no mark by more. If 12 V ever touch the lead, 1 kΩ lets no more than 7 mA into the board.',
    'The Schmitt gate goes over at one voltage and back at another, so a slow edge makes one change and not ten.',
  ],

  place: 'Mark and sensor',
  placeSays: [
    'One mark is enough. Paint a white mark on a roller blackened with a matt pen, or a matt black one on a bright roller; over the whole width that the sensor sees, with straight edges along the axle.',
    'Make it 30 to 90 degrees long. On a roller of 30 mm across that is 8 to 24 mm.',
    'Put the sensor at a roller’s end, away from the wheels and from rubber dust, 2 to 6 mm from the surface, square to it.',
    'Screw it to the frame that holds the roller, not to the table: then nothing moves between them.',
    'Earth the axle: a thin wire or a brush that touches it, over 1 MΩ to the earth pin of a static-discharge plug. Rubber on rollers charges them like a comb.',
  ],
  light: 'Light',
  lightSays: [
    'The sun has infrared too. Look where it will stand at noon and in the afternoon, not where it is when you build; turn the bench, hang cardboard, or put a dark tube around the sensor.',
    'Lamps on the mains flicker 100 or 120 times a second, which looks like a roller at 6,000 or 7,200 turns a minute that never changes. The check knows it and says so.',
    'Flashes, remote controls and the infrared lamps of cameras can make a burst of passes. Keep them away from the benches.',
  ],

  readings: 'Four readings with a meter',
  readingsSays: 'Set it to DC volts, range 20 V. Black probe to ground, roller still.',
  where: 'Where',
  right: 'Right',
  wrong: 'If not',
  readingList: [
    [
      'Supply at the sensor',
      '4.75 to 5.25 V',
      'Cable, plug or fuse; with less than 4.75 V take a shorter or thicker cable.',
    ],
    [
      'Across the 220 Ω, probe at either end',
      '3.5 to 4.0 V',
      '0 V: the lamp is the wrong way round or broken. 5 V: the lamp is bridged.',
    ],
    [
      'Collector, sensor before the dark roller',
      '4.0 V or more',
      'Light from elsewhere, sensor too near, or a roller that shines.',
    ],
    ['Collector, mark before the sensor', '0.8 V or less', 'Sensor nearer, mark brighter; or the 4.7 kΩ is missing.'],
  ] as [string, string, string][],
  readingsThen:
    'Behind the gate it is the other way round: 0.2 V or less before the dark roller, 4.8 V or more at the mark.',
  camera:
    'Infrared light cannot be seen. Look at the sensor through a phone’s camera: the lamp is a small violet or white point. If the rear camera shows none, try the front one, which often has no filter. No point, and reading 2 is wrong: mend the lamp first.',

  load: 'Load the program',
  loadSays:
    'The image is ready. Download all four files into one folder, compare the checksum, and load it with one command. A board that was loaded keeps the program for good.',
  images: 'Files',
  image: {
    'counterbox.hex': 'the program for the 8-bit board',
    SHA256SUMS: 'the checksums',
    'load.sh': 'loads it from Linux and macOS',
    'load.cmd': 'loads it from Windows',
  } as Record<string, string>,
  notRun: 'written, not run here',
  notRunSays:
    'What was not run when this page was written is marked. No board of metal was here: the program is proved on an emulated one, loading it is not.',
  system: 'System',
  compare: 'Compare',
  loading: 'Load',
  windowsSums: 'The line that it prints has to be the one in SHA256SUMS.',

  alone: 'Before any computer',
  aloneSays: [
    'Give the board 5 V from any USB plug.',
    'Turn the roller slowly by hand: the board’s own lamp blinks once at each mark, whatever is connected.',
    'No blink: take the four readings. Two blinks in one turn: a scratch or a bright spot is seen too.',
  ],

  steps: 'At the computer',
  stepsSays: (port: string) =>
    `These are for Linux, with the box at ${port}. On other systems the port has another name: macOS /dev/cu.…, Windows COM3 or the like.`,
  step: {
    find: [
      'Find the box: unplug it, plug it in, found.',
      'It prints the port that came. Put it in the place of the one below.',
    ],
    show: ['Ask what is set in it.', 'It answers with its inputs and what a mark is at each.'],
    four: ['Four sensors instead of one.', 'What is set stays in the board without power.'],
    high: [
      'A mark is high, as behind one Schmitt gate.',
      'Without it the box counts the mark’s other edge, which is no harm.',
    ],
    name: ['Note the bench and its marks in the box.', 'For people only: the box counts every mark.'],
    restart: ['Start the box anew.', ''],
    count: [
      'Turn the roller by hand. This is input 2?',
      'Draw a pencil line on roller and frame, and turn 20 times past it. It says “this is input 2” and counts: 20 turns, 20 counted. 19 or 21 is a fault: see below.',
    ],
    roll: [
      'Measure how far one turn goes.',
      'Motors off. Lay a tape flat over the roller and pull it so that it turns without slip, 20 turns past the pencil line; read how far the tape came. Here it was 1885 mm, read to 1 mm. It says the circumference and how sure it is. At the desk, under Benches, type turns, length and “off by at most” as they were measured.',
    ],
    check: [
      'Put a car on and let it run at full speed for 12 seconds.',
      'It says GOOD or NOT GOOD in words, the one thing to do first, and draws a plot. Once the box counts for a bench, the bench’s page on a phone does the same: “Check the signal”.',
    ],
    one: [
      'Let it count for a bench.',
      'The key is made on the desk under Keys, for a counter box. Put it into BENCHMEET_TOKEN, and the server’s own address in the place of this one.',
    ],
    several: [
      'Let one box count for four benches.',
      'Input 1 is the first bench named, and so on; the key names all four.',
    ],
  },

  around: 'How far one turn goes',
  aroundSays: [
    'Every speed and every distance is turns times circumference: 0.1 % there is 0.1 % in each result. Measure it when the bench is built, and again after rubber was changed.',
    'Rolled: n turns along a tape make the length L, right within ± a. The circumference is L / n, its standard uncertainty a / (n × √3): with 20 turns and 1 mm that is 0.03 mm. A roller that is out rolls along a tape on the table; for one turn, lay a strip of paper or a thread around it.',
    'Across: a caliper says the diameter d, right within ± a. The circumference is π × d, its uncertainty π × a / √3. Measure in three places and take the middle one. Rubber gives way, so do not squeeze it; the roller stands still.',
    'Type what you measured and not what you reckoned: the desk reckons, shows each step, and keeps both.',
  ],

  settings: 'All settings',
  settingsCaption: 'What --set sends',
  setting: 'Setting',
  does: 'What it does',
  set: {
    show: 'Says what is set.',
    inputs: 'How many sensors there are.',
    pin: 'Which bit of the board a sensor is at; who had it takes the other one’s.',
    mark: 'What the sensor gives while it sees a mark.',
    marks: 'Marks on the roller: a note for people.',
    bench: 'A note for people: small letters, digits and -, 12 at most.',
    baud: 'The speed of the line behind the next start. Give the node the same with --baud.',
    restart: 'Starts the board again.',
  },
  pins: 'On the board: sensors at port C, bits 0 to 5; start button at port D, bit 2; the lamp is port B, bit 5.',

  faults: 'Faults, and what they look like',
  faultsSays:
    'Each picture is the plot of the check: from left to right the time, upwards the time from stamp to stamp. A good signal is one thin line, high at the start and lower as the car gets faster.',
  plot: (name: string) => `Plot: ${name}`,
  looks: {
    good: 'Good',
    echo: 'A second line near the bottom',
    missed: 'Points at twice and three times the height',
    stray: 'Points strewn below the line',
    lamp: 'A line that is straight from the first moment on',
    bursts: 'A heap at the bottom in one place',
    unsteady: 'A thick line',
    marks: 'Several lines',
    breaks: 'The line ends, or has a hole',
  } as Record<string, string>,
  causes: {
    good: ['Nothing to do.'],
    echo: [
      'The mark has a ragged or shining edge: paint it anew, straight, and matt beside it.',
      'The sensor is too far away, so the edge is slow: nearer, and the Schmitt gate close to it.',
    ],
    missed: [
      'The mark is too short, too pale or dusty: wipe it, make it longer.',
      'The sensor is too far away or has moved.',
    ],
    stray: [
      'Brushes of motors make spikes: 1 nF at the input, lead away from the motors, a screen at ground at one end.',
      'The sun has reached the bench, often at noon: shade it.',
    ],
    lamp: ['The sensor sees a lamp on the mains and not the mark: shade it, and turn the roller by hand to check.'],
    bursts: ['A remote control, a flash or a camera’s infrared lamp: keep it away.'],
    unsteady: ['Sensor or roller shakes: screw both to one frame.', 'A bearing is worn, or the roller is bent.'],
    marks: ['There are more marks than you said, or a scratch is seen as one: count them in one turn by hand.'],
    breaks: [
      'A power bank switches itself off, as many do where little is drawn, often after half a minute: use a plug, or one for small loads.',
      'A plug is loose when the table shakes: plugs that lock, and the cable tied to the table beside the plug.',
      'Static from rubber on rollers starts the board again; the check says “the box started again”. Earth the axle, keep the lead away from the tyres.',
    ],
  } as Record<string, string[]>,

  other: 'Other systems, other boards',
  otherSays: [
    'benchmeet node is built for Linux on computers and small boards. For Windows and macOS it compiles from the same sources; it was not run there.',
    'A board with Wi-Fi can hand its stamps in by itself. deploy/counterbox/PORTING.md says what its program has to do; it was tried on a computer in the place of the board.',
  ],
};
