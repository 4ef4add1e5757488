import { useState } from 'preact/hooks'
import { claimed } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { tightening } from '../../store/index.ts'
import type { StageTold } from '../../trade/tightening/run.ts'
import { EXTENSION_CAUTIONS } from '../../trade/tightening/tools.ts'
import { targetWords } from './runWords.ts'
import { type Held, extend, extensionOf, heldFor, hold, offered, type Offered, setFor } from './tools.ts'

/** The register of torque tools, those that fit first; one touch takes one in hand. Below it the crow-foot or extension. */
export function ToolSheet({ stage, onClose }: { stage: StageTold; onClose: () => void }) {
  const now = heldFor(stage.method)
  const [name, setName] = useState(now.id ? '' : now.name)
  const tools = offered([...tightening.value.tools.values()].map((one) => one.what), stage, claimed())
  const take = (tool: Held) => {
    hold(stage.method, tool)
    onClose()
  }
  const row = (one: Offered) => (
    <li key={one.id}>
      <button type="button" aria-pressed={one.id === now.id} onClick={() => take({ id: one.id, name: one.name })}>
        <strong>{one.name}</strong>
        <span class="small">{one.facts}</span>
        {one.against.map((words) => (
          <span key={words} class="small gauge-due">
            {words}
          </span>
        ))}
      </button>
    </li>
  )
  return (
    <Sheet title={`Tool for ${targetWords(stage)}`} onClose={onClose}>
      {tools.length > 0 ? <ul class="gauges">{tools.map(row)}</ul> : <p class="soft">No torque tool has reached this phone. A name alone will do; its range and date are not known then.</p>}
      <form
        class="own-word"
        onSubmit={(event) => {
          event.preventDefault()
          take({ id: '', name: name.trim() })
        }}
      >
        <Field label="Another tool, by name" value={name} onValue={setName} />
        <button type="submit">Take it</button>
      </form>
      {stage.method === 'torque' && now.name && <Lever stage={stage} tool={now} />}
    </Sheet>
  )
}

/** What the wrench is set to with a crow-foot or an extension in line. */
function Lever({ stage, tool }: { stage: StageTold; tool: Held }) {
  const by = extensionOf(tool)
  const set = setFor(stage, by)
  const digits = (text: string) => text.replace(',', '.').replace(/[^\d.]/g, '')
  return (
    <details class="place-group lever" open={Boolean(by.length && by.extension)}>
      <summary>Crow-foot or extension on {tool.name}</summary>
      <div class="lever-lengths">
        <Field label="Wrench L, mm" value={by.length} onValue={(text) => extend(tool, { ...by, length: digits(text) })} keys="decimal" figures />
        <Field label="Extension E, mm" value={by.extension} onValue={(text) => extend(tool, { ...by, extension: digits(text) })} keys="decimal" figures />
      </div>
      <button type="button" class="wide" aria-pressed={by.square} onClick={() => extend(tool, { ...by, square: !by.square })}>
        At a right angle to the wrench
      </button>
      <p>
        {set ? (
          <>
            Set the wrench to <strong class="figure">{set}</strong> for {targetWords(stage)}: T·L / (L + E).
          </>
        ) : by.square ? (
          `At a right angle nothing changes: set it to ${targetWords(stage)}.`
        ) : (
          'Type both lengths.'
        )}
      </p>
      {EXTENSION_CAUTIONS.map((words) => (
        <p key={words} class="run-caution small">
          {words}
        </p>
      ))}
      {(by.length || by.extension) && (
        <button type="button" class="wide" onClick={() => extend(tool, { length: '', extension: '', square: false })}>
          No extension
        </button>
      )}
    </details>
  )
}
