/** Words of the room. */
export const caseRoom = {};
