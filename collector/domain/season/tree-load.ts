/** How much a tree bears, as it is judged from the ground: none, little, fair, heavy (common practice, no source). */
export const treeLoads = [0, 1, 2, 3] as const;
export type TreeLoad = (typeof treeLoads)[number];
