import { useState } from 'preact/hooks'
import { find } from '../../capture/index.ts'
import { Choice, Field } from '../../parts/controls/Field.tsx'
import type { Job } from '../../store/index.ts'
import { TYPED } from '../../trade/record/kinds.ts'
import { conditionsFor } from '../../trade/engine/vocabulary.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { Heard, SpokenActs } from '../speaking/SpokenFigure.tsx'
import { isElsewhere, SpokenFinding, useSpokenFinding } from './SpokenFinding.tsx'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { DISPOSITIONS } from './dispositions.ts'
import { nameOfPlace } from '../frame/places.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { capital } from '../frame/words.ts'

// The words a part usually shows stand first; the rest is one touch away.
const FIRST = 9

const BLANK = { observation: '', condition: [] as string[], opinion: '', disposition: '', ...TYPED }

/** A finding: what is seen, in its condition words, and apart from it what one thinks of it. */
export function Finding({ job }: { job: Job }) {
  const at = useWhere(job)
  const draft = useDraft(`finding/${job.id}`, BLANK)
  const { told, busy, keep } = useSaving()
  const v = draft.value
  const [all, setAll] = useState(false)
  const [own, setOwn] = useState('')
  const listed = conditionsFor(at.place)
  const offered = [...new Set([...v.condition, ...(all ? listed : listed.slice(0, FIRST))])]
  const turn = (word: string) =>
    draft.change({ condition: v.condition.includes(word) ? v.condition.filter((w) => w !== word) : [...v.condition, word] })
  const ready = Boolean(v.observation.trim())
  const spoken = useSpokenFinding(job, useType(job))
  const { proposal, heard } = spoken
  /** What was understood goes into the form, and nowhere else: there it is read once more. */
  const take = () => {
    if (!proposal || !heard) return
    const condition = [...new Set([...v.condition, ...proposal.conditions])]
    const observation = v.observation.trim() ? v.observation : proposal.conditions.length ? `${capital(proposal.conditions.join(', '))}.` : ''
    if (isElsewhere(proposal, at.place)) goTo(job, proposal.place, proposal.point)
    draft.change({ condition, observation, disposition: proposal.disposition || v.disposition, ...heard })
    spoken.putAway()
  }
  const save = async () => {
    const { condition, disposition, ...by } = v
    const found = { observation: v.observation.trim(), condition, opinion: v.opinion.trim(), disposition }
    const said = { spoken: by.spoken, heard: by.heard, heard_by: by.heard_by }
    if (ready && (await keep(() => find(at, found, said), 'Saved.'))) await draft.done()
  }
  return (
    <Screen
      title={`Finding, ${nameOfPlace(job, at.place, at.point)}`}
      job={job}
      acts={
        <>
          {spoken.phase === 'proposed' ? (
            <SpokenActs spoken={spoken} ready={Boolean(proposal?.conditions.length || proposal?.disposition)} busy={busy} name="Take it over" onRecord={take} />
          ) : (
            <FindingActs ready={ready} busy={busy} onSave={() => void save()} />
          )}
          <TalkAct spoken={spoken} />
        </>
      }
      under={<SpokenFinding job={job} spoken={spoken} />}
    >
      <div class="form">
        <Field
          label="Seen"
          value={v.observation}
          onValue={(observation) => draft.change({ observation })}
          lines={3}
          needed
          hint="What anyone would see who stood here: nine scores from 18 mm below the deck."
        />
        <Choice
          label="Condition"
          options={offered.map((word) => ({ value: word, words: word }))}
          chosen={v.condition}
          onChoose={turn}
          many
        />
        {all ? (
          <div class="own-word">
            <Field label="Another word" value={own} onValue={setOwn} />
            <button
              type="button"
              disabled={!own.trim()}
              onClick={() => {
                if (!v.condition.includes(own.trim())) turn(own.trim())
                setOwn('')
              }}
            >
              Add
            </button>
          </div>
        ) : (
          <button type="button" class="plain" onClick={() => setAll(true)}>
            More words
          </button>
        )}
        <Choice label="To do" options={DISPOSITIONS} chosen={[v.disposition]} onChoose={(one) => draft.change({ disposition: one === v.disposition ? '' : one })} />
        {v.spoken && <Heard words={v.heard} />}
        <div class="opinion">
          <Field
            label="Opinion"
            value={v.opinion}
            onValue={(opinion) => draft.change({ opinion })}
            lines={2}
            hint="Why it came about, as you judge it. It is kept apart from what is seen."
          />
        </div>
        <Told words={told.words} wrong={told.wrong} />
      </div>
    </Screen>
  )
}

function FindingActs({ ready, busy, onSave }: { ready: boolean; busy: boolean; onSave: () => void }) {
  return (
    <>
      <BackAct />
      <Act name={busy ? 'Saving' : 'Keep the finding'} main off={busy || !ready} onAct={onSave} />
    </>
  )
}
