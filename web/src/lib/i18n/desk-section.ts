import { deskSources } from './desk-sources';
import { add } from './section';

// What says the texts of the desk takes `section` from here, so that they are known by then.
add(deskSources);

export { section } from './section';
