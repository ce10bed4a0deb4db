/** The desk's server, as typed calls. */
import type { components } from './api';

export type View = components['schemas']['View'];
export type Page = components['schemas']['Page'];
export type Spread = components['schemas']['Spread'];
export type Problem = components['schemas']['Problem'];

/** The server said no, or did not answer; `problem` is what to show. */
export class Refusal extends Error {
  constructor(readonly problem: Problem) {
    super(problem.what);
  }
}

const SILENCE: Problem = {
  what: 'The desk does not answer.',
  where: '',
  remedy: 'It was stopped, perhaps. Open it again with "wayfold desk" and use the new window.',
};

async function ask(address: string): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(address);
  } catch {
    throw new Refusal(SILENCE);
  }
  if (response.ok) return response;
  const body: unknown = await response.json().catch(() => null);
  throw new Refusal(
    isProblem(body) ? body : { ...SILENCE, what: `The desk refused (${response.status}).` },
  );
}

function isProblem(body: unknown): body is Problem {
  return typeof body === 'object' && body !== null && 'what' in body;
}

export function toProblem(error: unknown): Problem {
  if (error instanceof Refusal) return error.problem;
  return {
    what: String(error),
    where: '',
    remedy: 'This is a fault of the desk; please report it.',
  };
}

export async function fetchView(): Promise<View> {
  return (await ask('api/view')).json() as Promise<View>;
}

/** A page as SVG; `address` is that of a bare page or of one seen through leaves. */
export async function fetchDrawing(address: string): Promise<string> {
  return (await ask(address)).text();
}
