/**
 * Taking hold of something and moving it: with the pointer, and with the arrow keys.
 *
 * An attachment: `<div {@attach drag(moves)}>`. The pointer is captured, so that it is followed
 * outside the window too; Escape puts everything back; a press without a move stays a click.
 */
import type { Attachment } from 'svelte/attachments';

export interface Point {
  x: number;
  y: number;
}

export interface Moves {
  /** Something is taken hold of at a place of the window (px); false leaves it be. */
  begin: (at: Point, event: PointerEvent) => boolean | void;
  /** It was moved so far since (px); `free` where Alt is held: nothing pulls at it. */
  move: (by: Point, free: boolean, at: Point) => void;
  drop: () => void;
  /** Everything is to be as before. */
  cancel: () => void;
  /** An arrow key: a step in its direction, a long one with Shift. Left out: keys do nothing. */
  step?: (x: number, y: number, long: boolean, event: KeyboardEvent) => void;
}

/** The pointer has to go this far before it is a move and not a click. */
const SLACK_PX = 3;

const ARROWS: Record<string, Point> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: -1 },
  ArrowDown: { x: 0, y: 1 },
};

export function drag(moves: Moves): Attachment<HTMLElement> {
  return (element) => {
    let from: Point | null = null;
    let held = false;
    let last: PointerEvent | null = null;
    let frame = 0;

    function press(event: PointerEvent): void {
      if (event.button !== 0 || from || event.target !== element) return;
      from = { x: event.clientX, y: event.clientY };
      element.setPointerCapture(event.pointerId);
    }

    function follow(event: PointerEvent): void {
      if (!from) return;
      const far = Math.hypot(event.clientX - from.x, event.clientY - from.y);
      if (!held) {
        if (far < SLACK_PX) return;
        if (moves.begin(from, event) === false) return leave();
        held = true;
        // Held above all else: Escape must not also close what lies around.
        window.addEventListener('keydown', escape, true);
      }
      last = event;
      // One step a picture of the screen, however often the pointer reports.
      frame ||= requestAnimationFrame(show);
    }

    function show(): void {
      frame = 0;
      if (!from || !last) return;
      const at = { x: last.clientX, y: last.clientY };
      moves.move({ x: at.x - from.x, y: at.y - from.y }, last.altKey, at);
    }

    function release(): void {
      if (!from) return;
      const wasHeld = held;
      if (wasHeld && frame) {
        cancelAnimationFrame(frame);
        show();
      }
      leave();
      if (wasHeld) {
        // The click that follows a drop is no choice.
        element.addEventListener('click', swallow, { capture: true, once: true });
        setTimeout(() => element.removeEventListener('click', swallow, true));
        moves.drop();
      }
    }

    function giveUp(): void {
      if (!from) return;
      const wasHeld = held;
      leave();
      if (wasHeld) moves.cancel();
    }

    function leave(): void {
      cancelAnimationFrame(frame);
      window.removeEventListener('keydown', escape, true);
      frame = 0;
      from = last = null;
      held = false;
    }

    function escape(event: KeyboardEvent): void {
      if (event.key !== 'Escape') return;
      event.preventDefault();
      event.stopPropagation();
      giveUp();
    }

    function step(event: KeyboardEvent): void {
      const arrow = ARROWS[event.key];
      if (!arrow || !moves.step || event.target !== element) return;
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      event.stopPropagation();
      moves.step(arrow.x, arrow.y, event.shiftKey, event);
    }

    element.addEventListener('pointerdown', press);
    element.addEventListener('pointermove', follow);
    element.addEventListener('pointerup', release);
    element.addEventListener('pointercancel', giveUp);
    element.addEventListener('keydown', step);
    element.style.touchAction = 'none';
    return () => {
      giveUp();
      element.removeEventListener('pointerdown', press);
      element.removeEventListener('pointermove', follow);
      element.removeEventListener('pointerup', release);
      element.removeEventListener('pointercancel', giveUp);
      element.removeEventListener('keydown', step);
    };
  };
}

function swallow(event: MouseEvent): void {
  event.stopPropagation();
  event.preventDefault();
}
