// Pictures of the library on their way to the panel.
#include "window/library_images.h"

namespace standpoint {

void take_library_images(Shell& shell) {
    constexpr std::size_t most_a_frame = 2;
    PanelState& panels = shell.panels;
    if (!panels.shelf) return;
    if (panels.shelf_of != shell.library_of || panels.shelf_count != shell.library.size()) {
        panels.shelf_of = shell.library_of;
        panels.shelf_count = shell.library.size();
        panels.shelf->want(shell.library, shell.desk->file);
    }
    for (const ShelfPicture& picture : panels.shelf->take(most_a_frame)) {
        LibraryImage& image = panels.images[picture.key];
        image.problem = picture.problem;
        if (panels.upload) image.texture = panels.upload(picture.image);
    }
}

} // namespace standpoint
