/** What pages are called, for those who hear them instead of seeing them. */
import { fill, texts } from '../../texts';
import { centreOf } from './fan';
import { room } from './flatplan.svelte';

const words = texts.flatplan;

/** A page with what lies on it: "Page 24, hero DSC_0449, at the centre of gathering 3". */
export function namePage(number: number): string {
  const page = room.pageAt(number);
  const block = room.blockAt(number);
  const lies = block
    ? block.pages > 1
      ? fill(words.partOf, { name: block.name, part: (page?.part ?? 0) + 1 })
      : block.name
    : words.white;
  let name = fill(words.pageName, { number, name: lies });
  const gathering = room.view?.gatherings.find(
    (g) => g.first_page <= number && number <= g.last_page,
  );
  if (gathering && centreOf(gathering).includes(number)) {
    name = fill(words.atCentre, { page: name, gathering: gathering.number });
  }
  const veiled = room.view?.leaves.some((leaf) => leaf.ends.some((end) => end.over === number));
  if (veiled) name = fill(words.facing, { page: name });
  return block?.held ? fill(words.heldName, { page: name }) : name;
}

/** Where the gap after a page lies: "between pages 8 and 9". */
export function nameGap(page: number): string {
  if (page < 1) return words.between.first;
  const last = room.view?.pages.length ?? 0;
  if (page >= last) return fill(words.between.last, { page });
  return fill(words.between.between, { page, next: page + 1 });
}
