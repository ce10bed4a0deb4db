/** Showing where things went: what stood elsewhere glides to its new place, and nothing else moves. */
const GLIDE_MS = 170;

/** Places on the screen by what stands there. */
export type Places = Map<string, DOMRect>;

/** Where everything of `host` that has a name for itself stands now. */
export function readPlaces(host: HTMLElement): Places {
  const places: Places = new Map();
  for (const thing of host.querySelectorAll<HTMLElement>('[data-lies]')) {
    const name = thing.dataset['lies'];
    if (name) places.set(name, thing.getBoundingClientRect());
  }
  return places;
}

/** Let what stood elsewhere glide from there, unless the person wants no motion. */
export function showMoves(host: HTMLElement, before: Places): void {
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) return;
  for (const thing of host.querySelectorAll<HTMLElement>('[data-lies]')) {
    const was = before.get(thing.dataset['lies'] ?? '');
    const now = thing.getBoundingClientRect();
    if (!isSeen(now)) continue;
    if (!was) {
      thing.animate([{ opacity: 0 }, { opacity: 1 }], { duration: GLIDE_MS, easing: 'ease-out' });
      continue;
    }
    const [dx, dy] = [was.left - now.left, was.top - now.top];
    if (Math.abs(dx) < 1 && Math.abs(dy) < 1) continue;
    const from = `translate(${dx}px, ${dy}px)`;
    thing.animate(
      [
        { transform: from, zIndex: 4 },
        { transform: 'none', zIndex: 4 },
      ],
      {
        duration: GLIDE_MS,
        easing: 'ease-out',
      },
    );
  }
}

function isSeen(place: DOMRect): boolean {
  return place.bottom > 0 && place.top < innerHeight;
}
