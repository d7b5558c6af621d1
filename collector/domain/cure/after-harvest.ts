/** What is done once when the last jar of a season is filled. All of it is common practice, no source. */
export const afterHarvestKinds = ['clean-drums', 'store-probes', 'gather-fallen', 'write-loads', 'prune', 'order-buffers'] as const;
export type AfterHarvestKind = (typeof afterHarvestKinds)[number];

export const isAfterHarvest = (kind: string): kind is AfterHarvestKind => (afterHarvestKinds as readonly string[]).includes(kind);

export const afterHarvestTitles: Readonly<Record<AfterHarvestKind, string>> = {
  'clean-drums': 'Wash and dry the drums',
  'store-probes': 'Put the probes away',
  'gather-fallen': 'Take up fallen fruit',
  'write-loads': 'Write down the trees',
  prune: 'Prune',
  'order-buffers': 'Order buffers and salt',
};

export const afterHarvestTexts: Readonly<Record<AfterHarvestKind, string>> = {
  'clean-drums': 'The last jars are filled: wash drums, lids, plates and weights, and let them dry open before they are stacked. Spent brine harms soil and streams: ask what is allowed where you live. Common practice.',
  'store-probes': 'Wash and dry the temperature probes and hang the leads up loose. A pH electrode goes into its storage solution, never dry, never into distilled water. Common practice.',
  'gather-fallen': 'Take up the fruit that lies under the trees and carry it away: the maggots in it are the fly of next year. Common practice.',
  'write-loads': 'Write down what each tree bore, weighed or by eye, on the screen Season. On and off years show only over the years. Common practice.',
  prune: 'Prune when the winter rain is past, on a dry day without frost: more after a heavy year, little or nothing after a light one. Wet wounds spread olive knot. If it is wet or frosty, wait. Common practice.',
  'order-buffers': 'The harvest comes round: look at the dates on the pH buffers and order fresh ones, with salt and lids, before they are needed. An opened bottle does not last from one season to the next. Common practice.',
};
