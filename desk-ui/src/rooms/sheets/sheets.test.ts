import { describe, expect, it } from 'vitest';
import { groupSheets, judgeChosen, nameRange, placeArrow, readReason, stepFrom } from './sheets';
import type { Sheet } from './sheets';

function sheet(name: string): Sheet {
  const side = { pages: [1, 4], turned: false, key: name };
  const paper = !name.startsWith('i');
  return {
    name,
    label: name,
    material: paper ? 'paper' : 'translucent',
    gathering: paper ? Number(name.split('.')[0]) : 1,
    index: 1,
    front: side,
    back: side,
    state: 'not printed',
    day: null,
    reasons: [],
    ignored: [],
  };
}

const SHEETS = ['1.1', '1.2', '2.1', 'i1', 'i2'].map(sheet);

describe('the list of sheets', () => {
  it('has a heading for each gathering and one for all translucent sheets', () => {
    const groups = groupSheets(SHEETS).map((g) => [g.gathering, g.sheets.length]);
    expect(groups).toEqual([
      [1, 2],
      [2, 1],
      [null, 2],
    ]);
  });

  it('is chosen from one sheet to another either way', () => {
    expect(nameRange(SHEETS, '1.2', 'i1')).toEqual(['1.2', '2.1', 'i1']);
    expect(nameRange(SHEETS, 'i1', '1.2')).toEqual(['1.2', '2.1', 'i1']);
    expect(nameRange(SHEETS, '9.9', '1.2')).toEqual([]);
  });

  it('is gone through step by step and ends at its ends', () => {
    expect(stepFrom(SHEETS, '1.1', 1)).toBe('1.2');
    expect(stepFrom(SHEETS, '1.1', -1)).toBe('1.1');
    expect(stepFrom(SHEETS, 'i2', 1)).toBe('i2');
  });

  it('tells of a heading whether all beneath it are chosen', () => {
    expect(judgeChosen(SHEETS.slice(0, 2), new Set(['1.1']))).toBe('some');
    expect(judgeChosen(SHEETS.slice(0, 2), new Set(['1.1', '1.2']))).toBe('all');
    expect(judgeChosen(SHEETS.slice(0, 2), new Set(['2.1']))).toBe('none');
  });
});

describe('what is said of a sheet', () => {
  it('names the page a reason speaks of', () => {
    expect(readReason('page 37: caption H0001.jpg').page).toBe(37);
    expect(readReason('front: the marks round the pages').page).toBeNull();
  });

  it('puts the arrow at the edge that goes in first', () => {
    expect(placeArrow('short-edge', 483 / 329)).toBe('right');
    expect(placeArrow('long-edge', 483 / 329)).toBe('head');
    expect(placeArrow('short-edge', 329 / 483)).toBe('head');
    expect(placeArrow('long-edge', 329 / 483)).toBe('right');
  });
});
