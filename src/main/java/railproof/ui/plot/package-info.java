/** Drawing many samples quickly: every peak stays visible, however few pixels there are. */
@NullMarked
package railproof.ui.plot;

import org.jspecify.annotations.NullMarked;
