import { expect, test } from 'vitest';
import { withoutNotes } from './glance';

test('a glance at a text leaves out its notes and their signs', () => {
  const text =
    'Cut into its rim.[^rim] We turned.\n\n[^rim]: The highest\nof the row.\n\nThen frost.';
  expect(withoutNotes(text)).toBe('Cut into its rim. We turned.\n\nThen frost.');
  expect(withoutNotes('No notes [at all].')).toBe('No notes [at all].');
});
