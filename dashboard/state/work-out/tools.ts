import { acidTools } from './acid-tools.ts';
import { brineTools } from './brine-tools.ts';
import { cureTools } from './cure-tools.ts';
import { jarTools } from './jar-tools.ts';
import { probeTools } from './probe-tools.ts';
import { recipeTool } from './recipe-tool.ts';
import type { Tool } from './tool.ts';

/** Every question the screen answers, in the order of the job. */
export const tools: readonly Tool[] = [...brineTools, recipeTool, ...acidTools, ...probeTools, ...cureTools, ...jarTools];

export const toolOf = (id: string): Tool | null => tools.find((tool) => tool.id === id) ?? null;
