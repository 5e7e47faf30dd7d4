import { z } from 'zod';
import { pipelineSchema } from '../../src/pipeline/pipeline-schema.js';
import { resultsSchema } from '../../src/report/results-schema.js';

const text = (schema: z.ZodType, title: string): string => {
  const json = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' });
  return `${JSON.stringify({ title, ...json }, null, 2)}\n`;
};

/** The committed JSON Schemas, made anew from the code. */
export const schemaFiles = (): { url: URL; text: string }[] => [
  {
    url: new URL('../../pipelines/pipeline.schema.json', import.meta.url),
    text: text(pipelineSchema, 'Cistern pipeline file'),
  },
  {
    url: new URL('../../src/report/results.schema.json', import.meta.url),
    text: text(resultsSchema, 'Cistern results.json'),
  },
];
