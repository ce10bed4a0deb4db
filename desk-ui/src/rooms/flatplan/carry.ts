/** Carrying a block to another page with the pointer. */

/** The pointer has to go so far (px) before a press becomes a carrying. */
const SLACK_PX = 6;
/** So near (px) to the edge of what scrolls, it scrolls. */
const EDGE_PX = 56;
const STEP_PX = 18;

export interface Carrying {
  /** The page that was pressed; false where nothing can be taken up there. */
  begin: (page: number) => boolean;
  /** The pointer is over that page now, at that place of the window. */
  over: (page: number | null, x: number, y: number) => void;
  drop: () => void;
  /** Put back. */
  cancel: () => void;
}

/** Follow presses on pages below `host`; gives what ends that. */
export function followPointer(host: HTMLElement, carrying: Carrying): () => void {
  let pressed: { page: number; x: number; y: number; id: number } | null = null;
  let going = false;

  function down(event: PointerEvent): void {
    const page = readPage(event.target);
    if (event.button !== 0 || page === null) return;
    pressed = { page, x: event.clientX, y: event.clientY, id: event.pointerId };
  }

  function move(event: PointerEvent): void {
    if (pressed?.id !== event.pointerId) return;
    if (!going) {
      const far = Math.hypot(event.clientX - pressed.x, event.clientY - pressed.y);
      if (far < SLACK_PX) return;
      going = carrying.begin(pressed.page);
      if (!going) pressed = null;
    }
    if (!going) return;
    event.preventDefault();
    scrollAt(host, event.clientY);
    const under = document.elementFromPoint(event.clientX, event.clientY);
    carrying.over(readPage(under), event.clientX, event.clientY);
  }

  function up(event: PointerEvent): void {
    if (pressed?.id !== event.pointerId) return;
    if (going) carrying.drop();
    pressed = null;
    going = false;
  }

  function stop(): void {
    if (going) carrying.cancel();
    pressed = null;
    going = false;
  }

  function press(event: KeyboardEvent): void {
    if (event.key !== 'Escape' || !going) return;
    event.stopPropagation();
    stop();
  }

  host.addEventListener('pointerdown', down);
  window.addEventListener('pointermove', move);
  window.addEventListener('pointerup', up);
  window.addEventListener('pointercancel', stop);
  window.addEventListener('keydown', press, true);
  return () => {
    host.removeEventListener('pointerdown', down);
    window.removeEventListener('pointermove', move);
    window.removeEventListener('pointerup', up);
    window.removeEventListener('pointercancel', stop);
    window.removeEventListener('keydown', press, true);
  };
}

function readPage(target: EventTarget | null): number | null {
  const page = target instanceof Element ? target.closest<HTMLElement>('[data-page]') : null;
  return page ? Number(page.dataset['page']) : null;
}

function scrollAt(host: HTMLElement, y: number): void {
  const { top, bottom } = host.getBoundingClientRect();
  if (y < top + EDGE_PX) host.scrollBy(0, -STEP_PX);
  if (y > bottom - EDGE_PX) host.scrollBy(0, STEP_PX);
}
