import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** What proves a figure before what starts processes; within both the longest first, so that none is left over alone. */
export default class FiguresFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isCli = (file: TestSpecification): boolean => /[\\/]tests[\\/]cli[\\/]/.test(file.moduleId);
    const sorted = await super.sort(files);
    return [...sorted.filter((file) => !isCli(file)), ...sorted.filter(isCli)];
  }
}
