import { Sheet } from './Sheet.tsx'

const KEYS: [string, [string[], string][]][] = [
  [
    'Anywhere',
    [
      [['/'], 'search'],
      [['?'], 'this sheet'],
      [['b'], 'back to all jobs'],
      [['Esc'], 'close what lies on top, or leave the search box'],
    ],
  ],
  [
    'In the register and in search',
    [
      [['↓', '↑', 'j', 'k'], 'next, previous line'],
      [['Enter'], 'open it'],
      [['n'], 'new job'],
    ],
  ],
  [
    'In the record',
    [
      [['↓', '↑', 'j', 'k'], 'next, previous exhibit'],
      [['Home'], 'first exhibit'],
      [['End'], 'latest exhibit'],
      [['Enter'], 'picture in full'],
      [['Space'], 'play or pause a recording'],
      [['a'], 'add to the record'],
      [['c'], 'correct this exhibit'],
      [['x'], 'take every filter off'],
      [['shift', 'Enter'], 'in the search box: look in all jobs'],
    ],
  ],
  [
    'Where spoken notes are answered',
    [
      [['↓', '↑', 'j', 'k'], 'next, previous note'],
      [['Space'], 'play or pause'],
      [['→', '←'], 'on a word: to the next, the one before'],
      [['Enter'], 'on a word: play from there'],
      [['shift', 'Enter'], 'on a word: play that word alone'],
    ],
  ],
  [
    'On a sheet of figures',
    [
      [['→', '←'], 'next, previous cylinder, journal or face'],
      [['↓', '↑'], 'next, previous reading or figure there'],
      [['Enter'], 'open the exhibit of a reading, or how a figure came about'],
      [['[', ']'], 'previous, next procedure'],
      [['p'], 'print the sheet'],
      [['r'], 'to the record'],
    ],
  ],
  [
    'On a joint as carried out',
    [
      [['[', ']'], 'previous, next joint'],
      [['→', '←', '↓', '↑'], 'in the drawing: to the fastener that lies that way'],
      [['p'], 'print the sheet'],
      [['r'], 'to the record'],
    ],
  ],
  [
    'Where fasteners are placed',
    [
      [['→', '←', '↓', '↑'], 'the chosen fastener one millimetre that way'],
      [['shift', '→'], 'to the next fastener that way'],
    ],
  ],
  [
    'In the full picture',
    [
      [['→', '←'], 'next, previous picture'],
      [['+', '−'], 'nearer, further'],
      [['0'], 'whole picture'],
      [['1'], 'one dot for one dot'],
      [['Esc'], 'back to the record'],
    ],
  ],
]

/** All keys of the office on one sheet. */
export function KeySheet({ close }: { close: () => void }) {
  return (
    <Sheet title="Keys" close={close} stand="middle">
      <div class="keys">
        {KEYS.map(([where, lines]) => (
          <section key={where}>
            <h3>{where}</h3>
            <dl>
              {lines.map(([names, what]) => (
                <div key={what}>
                  <dt>
                    {names.map((name) => (
                      <kbd key={name}>{name}</kbd>
                    ))}
                  </dt>
                  <dd>{what}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </Sheet>
  )
}
