import { describe, expect, it } from 'vitest';
import {
  centre,
  findMeeting,
  findNearest,
  listTicks,
  offsetAt,
  placeRow,
  timeAt,
  xOf,
  zoom,
} from './clocks';
import { clockOf, localAt, nameDay, sayDay, sayDays, sayLength } from './time';

const window = { start: 1_000, pxPerS: 0.1, width: 1_000 };

describe('two rows along one time', () => {
  it('stand where their instants are', () => {
    expect(xOf(1_500, window)).toBe(50);
    expect(timeAt(50, window)).toBe(1_500);
  });

  it('draw only what is seen, in order, and show only what has room', () => {
    const placed = placeRow([1_000, 1_100, 9_000, 1_500, 90_000], window);
    expect(placed.map((p) => p.index)).toEqual([0, 1, 3, 2]);
    expect(placed.map((p) => p.shown)).toEqual([true, false, true, true]);
  });

  it('move as one', () => {
    expect(placeRow([1_000], window, 3_840)[0]?.x).toBe(384);
  });

  it('are looked at closer about the pointer', () => {
    const closer = zoom(window, 2, 400);
    expect(timeAt(400, closer)).toBe(timeAt(400, window));
    expect(zoom(window, 1e9, 0).pxPerS).toBe(4);
  });

  it('are centred on a time', () => {
    expect(xOf(7_777, centre(window, 7_777))).toBeCloseTo(500);
  });

  it('tell which picture is nearest to a time', () => {
    expect(findNearest([10, 20, 30], 26)).toBe(2);
    expect(findNearest([10, 20, 30], 26, 6)).toBe(1);
    expect(findNearest([], 26)).toBe(-1);
  });
});

describe('the time where two rows meet', () => {
  it.each([
    [[100, 500, 900], [540, 2_000], 520],
    [[100], [], 100],
    [[], [7], 7],
    [[2_000, 3_000], [10, 20, 2_990], 2_995],
  ])('of %j and %j is %d', (mine, theirs, at) => expect(findMeeting(mine, theirs)).toBe(at));
});

describe('the time scale', () => {
  // Summer time ended in Portugal at 01:00 UTC on 26 October 2025 (the tz database).
  const end = Date.UTC(2025, 9, 26, 1) / 1000;
  const zones = [
    [end - 86_400 * 20, 60],
    [end, 0],
  ];

  it('knows the local time of both seasons', () => {
    expect(offsetAt(zones, end - 1)).toBe(60);
    expect(offsetAt(zones, end)).toBe(0);
    expect(offsetAt([], end)).toBe(0);
  });

  it('has its strokes at round local times', () => {
    const noon = Date.UTC(2025, 9, 12, 11) / 1000; // 12:00 there
    const ticks = listTicks({ start: noon - 300, pxPerS: 0.1, width: 800 }, zones);
    expect(ticks.map((t) => clockOf(localAt(t.at, 60)))).toEqual(
      ['12:00', '12:15', '12:30', '12:45', '13:00', '13:15', '13:30', '13:45', '14:00'].slice(
        0,
        ticks.length,
      ),
    );
    expect(ticks.length).toBeGreaterThan(7);
  });

  it('marks where a day begins', () => {
    const late = Date.UTC(2025, 9, 12, 22, 50) / 1000; // 23:50 there
    const ticks = listTicks({ start: late, pxPerS: 0.1, width: 800 }, zones);
    expect(ticks.filter((t) => t.day).map((t) => localAt(t.at, 60))).toEqual([
      '2025-10-13T00:00:00',
    ]);
  });
});

describe('times in words', () => {
  it.each([
    [0, '0 s'],
    [-200, '3 min 20 s'],
    [3_840, '1 h 4 min'],
    [90_061, '1 d 1 h 1 min 1 s'],
  ])('say %i seconds as %s', (seconds, said) =>
    expect(sayLength(seconds).replaceAll('\u00a0', ' ')).toBe(said),
  );

  it('name days', () => {
    expect(nameDay('2025-05-12')).toEqual({ number: '12', weekday: 'Monday', month: 'May' });
    expect(sayDay('2025-05-12')).toBe('Monday 12 May');
    expect(sayDays('2025-05-12', '2025-05-12')).toBe('12 May');
    expect(sayDays('2025-05-12', '2025-05-14')).toBe('12–14 May');
    expect(sayDays('2025-05-30', '2025-06-02')).toBe('30 May – 2 June');
  });
});
