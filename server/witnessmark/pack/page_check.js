// Checks the signed records that lie in this page, with nothing but the browser, and shows each as it was signed. What is
// drawn on the page was worked out by the server and is sealed with the pack; this does not work it out again.
{
  const data = JSON.parse(document.getElementById('signed').textContent)
  const { words } = data
  const bytes = (text) => new TextEncoder().encode(text)
  const unbase64 = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
  const unhex = (text) => Uint8Array.from(text.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16))
  const hex = (buffer) => [...new Uint8Array(buffer)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
  const sha256 = async (...parts) => {
    const whole = new Uint8Array(parts.reduce((length, part) => length + part.length, 0))
    let at = 0
    for (const part of parts) {
      whole.set(part, at)
      at += part.length
    }
    return hex(await crypto.subtle.digest('SHA-256', whole))
  }
  const keys = new Map()
  const verify = async (spki, signature, message) => {
    const curve = { name: 'ECDSA', namedCurve: 'P-256' }
    if (!keys.has(spki)) keys.set(spki, crypto.subtle.importKey('spki', unbase64(spki), curve, false, ['verify']))
    return crypto.subtle.verify({ name: 'ECDSA', hash: 'SHA-256' }, await keys.get(spki), unbase64(signature), message)
  }
  const node = (left, right) => sha256(Uint8Array.of(1), unhex(left), unhex(right))

  /** Whether a leaf leads to the root of a tree of `size` (RFC 9162, 2.1.3.2). */
  const leadsTo = async (leaf, position, size, path, root) => {
    if (position < 1 || position > size) return false
    let at = position - 1
    let last = size - 1
    let hash = leaf
    for (const step of path) {
      if (last === 0) return false
      if (at % 2 === 1 || at === last) {
        hash = await node(step, hash)
        while (at % 2 === 0 && at !== 0) {
          at = Math.floor(at / 2)
          last = Math.floor(last / 2)
        }
      } else hash = await node(hash, step)
      at = Math.floor(at / 2)
      last = Math.floor(last / 2)
    }
    return last === 0 && hash === root
  }

  const faultOf = async (record, deviceKeys, head) => {
    const entry = JSON.parse(record.bytes)
    const { position, received, offset_ms, signature } = record
    if (entry.kind === 'workshop_founded') deviceKeys.set(entry.device, entry.body.server_key === data.server_key ? data.server_key : '')
    const key = deviceKeys.get(entry.device)
    if (entry.kind === 'device_enrolled') deviceKeys.set(entry.body.device, entry.body.public_key)
    if (!key || !(await verify(key, signature, bytes(record.bytes)))) return words.not_signed
    const stamp = JSON.stringify({ entry: await sha256(bytes(record.bytes)), offset_ms, position, received, signature })
    const path = record.path.map((place) => data.hashes[place])
    return (await leadsTo(await sha256(Uint8Array.of(0), bytes(stamp)), position, head.size, path, head.root)) ? '' : words.not_in_log
  }

  const check = async () => {
    const head = JSON.parse(data.head)
    const faults = []
    if ((await sha256(unbase64(data.server_key))).slice(0, 32) !== head.server || !(await verify(data.server_key, data.head_signature, bytes(data.head))))
      faults.push(words.head)
    const deviceKeys = new Map()
    const well = new Map()
    for (const record of data.records) {
      const fault = await faultOf(record, deviceKeys, head)
      if (fault) faults.push(`${words.position.replace('{position}', record.position)}: ${fault}`)
      else well.set(String(record.position), record)
    }
    for (const article of document.querySelectorAll('.record')) {
      const record = well.get(article.dataset.position)
      if (record) showSigned(article, record)
      else faults.push(`${article.querySelector('.balloon').textContent}: ${words.not_among}`)
    }
    return { head, faults, count: well.size }
  }

  const showSigned = (article, record) => {
    const details = document.createElement('details')
    details.className = 'prints'
    const summary = document.createElement('summary')
    summary.textContent = words.as_signed
    details.append(summary)
    details.addEventListener('toggle', () => {
      if (details.querySelector('pre')) return
      const text = document.createElement('pre')
      text.textContent = JSON.stringify(JSON.parse(record.bytes), null, 1)
      details.append(text)
    })
    article.querySelector(':scope > div').append(details)
  }

  const answer = document.getElementById('check')
  const say = (text, faults = []) => {
    answer.textContent = text
    answer.classList.toggle('caution', faults.length > 0)
    if (!faults.length) return
    const list = document.createElement('ul')
    for (const fault of faults.slice(0, 20)) {
      const line = document.createElement('li')
      line.textContent = fault
      list.append(line)
    }
    answer.append(list)
  }
  if (!globalThis.crypto?.subtle) say(words.cannot)
  else {
    say(words.checking)
    check().then(
      ({ head, faults, count }) =>
        faults.length
          ? say(words.faulty.replace('{number}', faults.length), faults)
          : say(words.well.replace('{count}', count).replace('{size}', head.size).replace('{server}', head.server)),
      (error) => say(words.failed.replace('{reason}', error)),
    )
  }
}
