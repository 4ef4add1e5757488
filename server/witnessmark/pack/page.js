// Lights each word of a recording while it is heard, and plays a word that is touched. The page says all without it.
for (const box of document.querySelectorAll('.record:has(audio) .words')) {
  const audio = box.closest('.record').querySelector('audio')
  const words = [...box.querySelectorAll('[data-from]')]
  const moment = (word, name) => Number(word.dataset[name]) / 1000
  const play = (word) => {
    audio.currentTime = moment(word, 'from')
    audio.play()
  }
  const light = () => {
    for (const word of words) {
      const lit = audio.currentTime >= moment(word, 'from') && audio.currentTime < moment(word, 'to')
      word.classList.toggle('lit', lit && (!audio.paused || audio.currentTime > 0))
    }
    if (!audio.paused) requestAnimationFrame(light)
  }
  audio.preload = 'metadata'
  audio.addEventListener('play', light)
  audio.addEventListener('seeked', light)
  if (words.length) {
    box.setAttribute('role', 'group')
    box.setAttribute('aria-label', `Word by word: ${words.map((word) => word.textContent).join(' ')}`)
  }
  words.forEach((word, number) => {
    word.setAttribute('role', 'button')
    word.tabIndex = number ? -1 : 0
    word.addEventListener('click', () => play(word))
    word.addEventListener('keydown', (event) => {
      const to = { ArrowRight: number + 1, ArrowLeft: number - 1, Home: 0, End: words.length - 1 }[event.key]
      const next = words[to]
      if (next) {
        word.tabIndex = -1
        next.tabIndex = 0
        next.focus()
      } else if (event.key === 'Enter' || event.key === ' ') play(word)
      if (next || event.key === 'Enter' || event.key === ' ') event.preventDefault()
    })
  })
}
