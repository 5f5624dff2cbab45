// A drawing of the engine shown anew: only the marks that changed are made anew, so that a step of a drag costs what it moves.
const LAYERS = /(?=<g[ >])/
const MARKS = /<text[^]*?<\/text>|<[^>]*\/>/g

/** Put the drawing into the element. before : what stands in it, as it was put there; '' = unknown. */
export function redraw(host: Element, svg: string, before: string): void {
  if (svg === before) return
  const [now, was] = [svg.split(LAYERS), before.split(LAYERS)]
  const layers = host.querySelectorAll(':scope > svg > g')
  // head (size, title, hatches) and the layers' own names must be the same, else all is made anew
  const alike = now.length === was.length && layers.length === now.length - 1 && now[0] === was[0] && now.every((part, i) => i === 0 || head(part) === head(was[i]!))
  if (!alike) {
    host.innerHTML = svg
    return
  }
  for (let i = 1; i < now.length; i++) if (now[i] !== was[i]) relay(layers[i - 1]!, now[i]!, was[i]!)
}

const head = (layer: string) => layer.slice(0, layer.indexOf('>') + 1)

function relay(layer: Element, now: string, was: string): void {
  const inside = now.slice(now.indexOf('>') + 1, now.indexOf('</g>'))
  const [marks, old] = [inside.match(MARKS) ?? [], was.slice(was.indexOf('>') + 1).match(MARKS) ?? []]
  const there = [...layer.children]
  if (marks.length !== old.length || there.length !== marks.length || marks.join('') !== inside) {
    layer.innerHTML = inside
    return
  }
  for (let i = 0; i < marks.length; i++) if (marks[i] !== old[i]) there[i]!.outerHTML = marks[i]!
}
