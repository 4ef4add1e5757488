import { useState } from 'preact/hooks'
import { claimed } from '../../capture/index.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { tightening } from '../../store/index.ts'
import type { StageState } from '../../trade/tightening/run.ts'
import { EXTENSION_CAUTIONS } from '../../trade/tightening/tools.ts'
import { targetWords } from './runWords.ts'
import { type Held, extend, extensionOf, heldFor, hold, offered, type Offered, setFor } from './tools.ts'
import { say } from '../frame/say.ts'

/** The register of torque tools, those that fit first; one touch takes one in hand. Below it the crow-foot or extension. */
export function ToolSheet({ stage, onClose }: { stage: StageState; onClose: () => void }) {
  const now = heldFor(stage.method)
  const [name, setName] = useState(now.id ? '' : now.name)
  const tools = offered([...tightening.value.tools.values()].map(({ data }) => data), stage, claimed())
  const take = (tool: Held) => {
    hold(stage.method, tool)
    onClose()
  }
  const row = ({ id, name, facts, against }: Offered) => (
    <li key={id}>
      <button type="button" aria-pressed={id === now.id} onClick={() => take({ id, name })}>
        <strong>{name}</strong>
        <span class="small">{facts}</span>
        {against.map((words) => (
          <span key={words} class="small gauge-due bold">
            {words}
          </span>
        ))}
      </button>
    </li>
  )
  return (
    <Sheet title={say('tool.title', { target: targetWords(stage) })} onClose={onClose}>
      {tools.length > 0 ? <ul class="gauges">{tools.map(row)}</ul> : <p class="soft">{say('tool.none')}</p>}
      <form
        class="own-word"
        onSubmit={(event) => {
          event.preventDefault()
          take({ id: '', name: name.trim() })
        }}
      >
        <Field label={say('tool.other')} value={name} onValue={setName} />
        <button type="submit">{say('common.use')}</button>
      </form>
      {stage.method === 'torque' && now.name && <Lever stage={stage} tool={now} />}
    </Sheet>
  )
}

/** What the wrench is set to with a crow-foot or an extension in line. */
function Lever({ stage, tool }: { stage: StageState; tool: Held }) {
  const by = extensionOf(tool)
  const set = setFor(stage, by)
  const digits = (text: string) => text.replace(',', '.').replace(/[^\d.]/g, '')
  return (
    <details class="place-group stack" open={Boolean(by.length && by.extension)}>
      <summary>{say('tool.extension', { tool: tool.name })}</summary>
      <div class="halves">
        <Field label={say('tool.wrench_length')} value={by.length} onValue={(text) => extend(tool, { ...by, length: digits(text) })} keys="decimal" figures />
        <Field label={say('tool.extension_length')} value={by.extension} onValue={(text) => extend(tool, { ...by, extension: digits(text) })} keys="decimal" figures />
      </div>
      <button type="button" class="wide" aria-pressed={by.square} onClick={() => extend(tool, { ...by, square: !by.square })}>
        {say('tool.square')}
      </button>
      <p>
        {set ? (
          <>
            {say('tool.set_to')} <strong class="figure">{set}</strong> {say('tool.for_target', { target: targetWords(stage) })}
          </>
        ) : by.square ? (
          say('tool.square_set_to', { target: targetWords(stage) })
        ) : (
          say('tool.type_lengths')
        )}
      </p>
      {EXTENSION_CAUTIONS.map((words) => (
        <p key={words} class="warned small">
          {words}
        </p>
      ))}
      {(by.length || by.extension) && (
        <button type="button" class="wide" onClick={() => extend(tool, { length: '', extension: '', square: false })}>
          {say('tool.no_extension')}
        </button>
      )}
    </details>
  )
}
