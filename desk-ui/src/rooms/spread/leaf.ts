/** The translucent leaf of a spread: lifted out of sight, lying on the right page, or turned. */
import type { Half } from '../read/spreads';
import type { SpreadView } from './wire';

export type Laid = 'lifted' | 'down' | 'turned';

/** The ways a leaf may lie here, in the order in which a reader meets them. */
export function listLaid(view: SpreadView): Laid[] {
  const laid: Laid[] = ['lifted'];
  if (view.interleaf.lying !== null) laid.push('down');
  if (view.interleaf.turned !== null) laid.push('turned');
  return laid;
}

/** The two sides of the open spread as they are seen. */
export function listSides(view: SpreadView, laid: Laid): Half[] {
  const { lying, turned } = view.interleaf;
  const find = (side: Half['side']): Half => ({
    side,
    number: view.pages.find((page) => page.side === side)?.number ?? null,
    veiled:
      laid === 'turned' && side === 'verso'
        ? turned
        : laid === 'down' && side === 'recto'
          ? lying
          : null,
  });
  return [find('verso'), find('recto')].filter(
    (half) => half.number !== null || half.veiled !== null,
  );
}
