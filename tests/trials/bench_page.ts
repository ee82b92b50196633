// What the pages of the trials of domain code run.
export { compileStandard, grade } from '../../frontend/src/domain/grading';
export { pairs } from '../../frontend/src/domain/pairs';
