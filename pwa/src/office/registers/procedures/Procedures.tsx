import { useState } from 'preact/hooks'
import { PARTS } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import type { Procedures as Register } from '../measuring/shapes.ts'
import { postFile } from '../../frame/api.ts'
import { FromFile } from '../../frame/FromFile.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { address, go, route } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { sentence } from '../../frame/words.ts'
import { blank, nextEdition, ownFrom, toForm, type Typed } from './form.ts'
import { ProcedureForm } from './ProcedureForm.tsx'
import { ProcedureView } from './ProcedureView.tsx'
import { inWords } from './listed.ts'

/** How the workshop measures: procedures that come with the program, and its own. */
export function Procedures() {
  const [, code, leaf] = route.value.path
  const [taken, setTaken] = useState<Typed | null>(null)
  const { told, trouble, again } = useAsk<Register>('/api/procedures')
  const all = told?.procedures ?? []
  const one = all.find(({ procedure }) => procedure.code === code)
  const saved = (procedure: Procedure) => {
    setTaken(null)
    again()
    go(['procedures', procedure.code])
  }
  if (code === 'new' && isManager.value) return <ProcedureForm start={taken ?? blank()} saved={saved} />
  if (code && !told && !trouble) return <p class="opening">Opening the procedure.</p>
  if (one && leaf === 'edit' && !one.built_in && isManager.value)
    return <ProcedureForm start={nextEdition(one.procedure)} saved={saved} />
  if (one && leaf === 'own' && isManager.value) return <ProcedureForm start={ownFrom(one.procedure)} saved={saved} />
  if (one) return <ProcedureView {...one} />
  const parts = [...new Set(all.map(({ procedure }) => procedure.part))]
  return (
    <section class="page" aria-labelledby="procedures-title">
      <PageHead
        id="procedures-title"
        title="Procedures"
        acts={
          isManager.value && (
            <>
              <FromFile
                holds="Procedure"
                read={async (text) => {
                  const told = await postFile<{ procedure: Procedure }>('/api/procedures/file', text)
                  setTaken(toForm(told.procedure))
                  go(['procedures', 'new'])
                }}
              />
              <a class="act main-act" href={address(['procedures', 'new'])} onClick={() => setTaken(null)}>
                New procedure
              </a>
            </>
          )
        }
      />
      <p class="page-words">
        What is read where, and what is worked out from it. Phone and office evaluate the same lines, to the last digit.
      </p>
      <Fault>{trouble?.message || (code && told && !one ? 'There is no such procedure here.' : '')}</Fault>
      <div class="procedure-parts">
        {parts.map((part) => (
          <section key={part} aria-label={PARTS[part]?.name ?? part}>
            <h2>{sentence(PARTS[part]?.name ?? part)}</h2>
            <ul>
              {all
                .filter(({ procedure }) => procedure.part === part)
                .map(({ procedure, built_in }) => (
                  <li key={procedure.code}>
                    <a href={address(['procedures', procedure.code])}>{procedure.name}</a>
                    <span class="soft">
                      {inWords(procedure)}
                      {!built_in && `, our own, edition ${procedure.edition}`}
                    </span>
                  </li>
                ))}
            </ul>
          </section>
        ))}
      </div>
    </section>
  )
}

