import { say, type SentenceKey } from './say.ts'
import { Sheet } from './Sheet.tsx'
import './keys.css'

interface KeyLine {
  keys: string[]
  does: SentenceKey
}

const arrows = ['→', '←', '↓', '↑']
const lines = ['↓', '↑', 'j', 'k']

const GROUPS: { where: SentenceKey; keys: KeyLine[] }[] = [
  {
    where: 'frame.keys_anywhere',
    keys: [
      { keys: ['/'], does: 'frame.key_search' },
      { keys: ['?'], does: 'frame.key_this_list' },
      { keys: ['b'], does: 'frame.key_back_to_jobs' },
      { keys: ['Esc'], does: 'frame.key_close' },
    ],
  },
  {
    where: 'frame.keys_in_lists',
    keys: [
      { keys: lines, does: 'frame.key_line' },
      { keys: ['Enter'], does: 'frame.key_open' },
      { keys: ['n'], does: 'frame.key_new_job' },
    ],
  },
  {
    where: 'frame.keys_in_record',
    keys: [
      { keys: lines, does: 'frame.key_record' },
      { keys: ['Home'], does: 'frame.key_first_record' },
      { keys: ['End'], does: 'frame.key_latest_record' },
      { keys: ['Enter'], does: 'frame.key_full_screen' },
      { keys: ['Space'], does: 'frame.key_play' },
      { keys: ['a'], does: 'frame.key_add' },
      { keys: ['c'], does: 'frame.key_correct' },
      { keys: ['x'], does: 'frame.key_clear_filters' },
      { keys: ['shift', 'Enter'], does: 'frame.key_search_all' },
    ],
  },
  {
    where: 'frame.keys_in_spoken',
    keys: [
      { keys: lines, does: 'frame.key_note' },
      { keys: ['Space'], does: 'frame.key_play_note' },
      { keys: ['→', '←'], does: 'frame.key_word' },
      { keys: ['Enter'], does: 'frame.key_play_from_word' },
      { keys: ['shift', 'Enter'], does: 'frame.key_play_word' },
    ],
  },
  {
    where: 'frame.keys_in_figures',
    keys: [
      { keys: ['→', '←'], does: 'frame.key_place' },
      { keys: ['↓', '↑'], does: 'frame.key_reading' },
      { keys: ['Enter'], does: 'frame.key_open_reading' },
      { keys: ['[', ']'], does: 'frame.key_procedure' },
      { keys: ['p'], does: 'frame.key_print' },
      { keys: ['r'], does: 'frame.key_to_record' },
    ],
  },
  {
    where: 'frame.keys_in_joints',
    keys: [
      { keys: ['[', ']'], does: 'frame.key_joint' },
      { keys: arrows, does: 'frame.key_fastener' },
      { keys: ['p'], does: 'frame.key_print' },
      { keys: ['r'], does: 'frame.key_to_record' },
    ],
  },
  {
    where: 'frame.keys_in_placing',
    keys: [
      { keys: arrows, does: 'frame.key_move_fastener' },
      { keys: ['shift', '→'], does: 'frame.key_next_fastener' },
    ],
  },
  {
    where: 'frame.keys_in_picture',
    keys: [
      { keys: ['→', '←'], does: 'frame.key_picture' },
      { keys: ['+', '−'], does: 'frame.key_zoom' },
      { keys: ['0'], does: 'frame.key_whole_picture' },
      { keys: ['1'], does: 'frame.key_actual_size' },
      { keys: ['Esc'], does: 'frame.key_back_to_record' },
    ],
  },
]

/** All keys of the office on one sheet. */
export function KeySheet({ close }: { close: () => void }) {
  return (
    <Sheet title={say('frame.keys')} close={close} stand="middle">
      <div class="keys">
        {GROUPS.map(({ where, keys }) => (
          <section key={where}>
            <h3>{say(where)}</h3>
            <dl>
              {keys.map((line) => (
                <div key={line.does}>
                  <dt class="wraps">
                    {line.keys.map((name) => (
                      <kbd key={name}>{name}</kbd>
                    ))}
                  </dt>
                  <dd>{say(line.does)}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </Sheet>
  )
}
