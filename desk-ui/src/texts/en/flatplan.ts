/** Words of the room. */
export const flatplan = {};
