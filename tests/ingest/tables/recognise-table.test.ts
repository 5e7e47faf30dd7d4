import { describe, expect, test } from 'vitest';
import { recogniseTable, recogniseTableFile } from '../../../src/ingest/tables/recognise-table.js';
import { fileOf } from './support.js';

describe('a header', () => {
  test.each([
    ['Bed,Onset,Parameter,Limit (mmHg),Priority,Acknowledged', 'alarms'],
    ['Time,Bed,Alarm,Priority', 'alarms'],
    ['Patient,Alarm start,Alarm end,Message', 'alarms'],
    ['Time,Bed,Parameter,Value,Limit,Priority,Ack time', 'alarms'],
    ['Patient,Start,End,Event,Note', 'care'],
    ['Date,Time,Bed,Procedure', 'care'],
    ['Bed,Time,Drug,Dose', 'care'],
    ['Patient,Bed,Unit,From,To', 'occupancy'],
    ['Patient;Bed;Admission;Discharge', 'occupancy'],
    ['Patient,Age (years),GCS motor,CT,Pupils,GOSE', 'cohort'],
    ['ID,Age,Outcome', 'cohort'],
    ['Patient,GOSE', 'cohort'],
    ['Patient,Injury,GOS at 6 months', 'cohort'],
    ['Patient,Vital status', 'cohort'],
    ['Patient,Outcome', null],
    ['patient,from,CPP target (mmHg)', 'targets'],
    ['Pat-Nr;Ab;CPP lower limit (mmHg)', 'targets'],
    ['Patient,Time,CPP (mmHg)', null],
    ['Time,ICP (mmHg),MAP (mmHg)', null],
    ['Time,ICP (mmHg),Bed,ICP alarm status', null],
    ['Patient,Time,Parameter,Value,Unit', null],
    ['Patient,Time,Parameter,Value,Unit,Upper limit', null],
    ['Patient,Age', null],
    ['Something,Else', null],
    ['', null],
  ])('%s', (header, kind) => {
    expect(recogniseTable(header.split(/[,;]/))).toBe(kind);
  });
});

test('a file is recognised below the lines above its header', async () => {
  const text = 'Unit report\nPatient;all\n\nBett;Beginn;Parameter;Priorität\n4;13.02.2031 02:10;ICP;hoch\n';
  expect(await recogniseTableFile(fileOf(Buffer.from(text, 'latin1')))).toBe('alarms');
  expect(await recogniseTableFile(fileOf('Time,ICP (mmHg)\n2031-02-13 02:10:00,12\n'))).toBeNull();
  expect(await recogniseTableFile(fileOf(''))).toBeNull();
});
