import { describe, expect, it } from 'vitest';
import type { components } from '../api';
import { listMends } from './mends';

type Finding = components['schemas']['BookFinding'];

const finding = (where: string, ...mends: Finding['mends']): Finding => ({
  rule: 'date-style',
  severity: 'warn',
  where,
  message: '',
  remedy: '',
  room: 'spread',
  place: '',
  mends,
});

describe('listing mends', () => {
  const km = { source: 'text:rome', old: '12km', new: '12 km' };

  it('names each passage once, where it was found first', () => {
    const other = { ...km, source: 'caption:a' };
    const listed = listMends([
      finding('page 1'),
      finding('page 4', km),
      finding('page 5', km, other),
    ]);
    expect(listed).toEqual([
      { where: 'page 4', ...km },
      { where: 'page 5', ...other },
    ]);
  });

  it('keeps together what stands in one place', () => {
    const far = { ...km, source: 'caption:b' };
    const near = { ...km, source: 'caption:a' };
    const listed = listMends([finding('one', km), finding('two', far), finding('one', near)]);
    expect(listed.map(({ where }) => where)).toEqual(['one', 'one', 'two']);
  });

  it('has nothing where nothing is safe', () => {
    expect(listMends([finding('page 1')])).toEqual([]);
  });
});
