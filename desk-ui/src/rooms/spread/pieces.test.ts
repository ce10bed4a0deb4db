import { describe, expect, it } from 'vitest';
import { WHOLE } from './cropping';
import { listBaselines, listPieces, renameFor, takeGrid, tellPlace, tellText } from './pieces';
import type { Frame, PictureIn, SpreadView } from './wire';

const picture = (photo: string, whole_box: PictureIn['whole_box'], across = false): PictureIn => ({
  photo,
  content: 'ab12',
  name: photo,
  width_px: 6000,
  height_px: 4000,
  crop: WHOLE,
  crop_kept: false,
  across,
  whole_box,
  ppi: 300,
  largest_mm: { width: 500, height: 300 },
  faces: [],
  bleeds: false,
});

const frame = (id: string, page: number, block: string, held: PictureIn): Frame => ({
  id,
  page,
  block,
  kind: 'picture',
  box: { ...held.whole_box, x: held.whole_box.x - (page % 2 ? 210 : 0) },
  movable: true,
  why_not: '',
  picture: held,
  texts: [],
  by_hand: false,
});

const wide = picture('sea', { x: -3, y: -3, width: 426, height: 240 }, true);
const small = picture('quay', { x: 232, y: 250, width: 60, height: 40 });
const area = { x: 22, y: 22, width: 168, height: 240 };
const page = {
  label: '',
  chapter: '',
  family: 'across',
  picture_area: area,
  text_area: area,
  columns: [area],
};
const view: SpreadView = {
  revision: 'a',
  page_count: 20,
  pages: [
    { ...page, number: 6, side: 'verso', baseline_first_mm: 20, baseline_step_mm: 50 },
    { ...page, number: 7, side: 'recto', baseline_first_mm: 20, baseline_step_mm: 50 },
  ],
  trim_width_mm: 210,
  trim_height_mm: 297,
  bleed_mm: 3,
  safe_trim_mm: 8,
  safe_fold_mm: 12,
  gap_mm: 4,
  caption_gap_mm: 2.6,
  sunk_mm: 80,
  frames: [
    frame('6:sea', 6, 'one', wide),
    frame('7:sea', 7, 'one', wide),
    frame('7:quay', 7, 'one', small),
  ],
  blocks: [],
  findings: [],
  interleaf: { lying: null, turned: null, wishes: [] },
};

describe('what lies on a spread', () => {
  it('has a picture across the fold once', () => {
    const [sea, quay] = listPieces(view);
    expect(sea?.frames).toEqual(['6:sea', '7:sea']);
    expect(sea?.box).toEqual(wide.whole_box);
    expect(quay?.box).toEqual(small.whole_box);
  });

  it('has the columns and lines of both pages', () => {
    expect(takeGrid(view).columns.map(({ x }) => x)).toEqual([22, 232]);
    expect(listBaselines(view)).toEqual([20, 70, 120, 170, 220, 270]);
  });

  it('has a text on the page where its middle is, which may begin over the fold', () => {
    const text = { ...listPieces(view)[1]!, id: 'caption:quay@7', picture: null };
    const told = tellText(view, text, { x: 205, y: 60, width: 50, height: 9 });
    expect(told).toEqual({ frame: 'caption:quay@7', on: 7, left: -5, top: 60, width: 50 });
    expect(tellText(view, text, { x: 150, y: 60, width: 50, height: 9 }).on).toBe(6);
    expect(renameFor('caption:quay@7', 6)).toBe('caption:quay@6');
  });

  it('is told of by the page where its left edge lies', () => {
    const [sea, quay] = listPieces(view);
    const moved = tellPlace(view, quay!, { x: 240, y: 245, width: 66, height: 44 }, WHOLE);
    expect(moved).toEqual({
      photo: 'quay',
      page: 7,
      box: { x: 30, y: 245, width: 66, height: 44 },
      crop: WHOLE,
    });
    expect(tellPlace(view, sea!, sea!.box, WHOLE)).toMatchObject({ page: 6, box: wide.whole_box });
  });
});
