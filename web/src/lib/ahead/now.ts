// Runs before all other code of a page: keeps the key of a link, and asks the server
// for what the first draw waits for while the rest of the code is still on its way.
import { ahead } from '.';
import { linkKey } from './link-key';
import { inside, outside } from './root';
import { wanted } from './wanted';

const key = linkKey.read();
for (const path of wanted(inside(location.pathname), key !== undefined)) ahead.ask(location.origin + outside(path));
