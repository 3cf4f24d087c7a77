"""What gunicorn reads where the site is started by it: behind a front that buffers."""

import gunicorn

gunicorn.SERVER = ""  # nobody is told what answers
control_socket_disable = True  # nobody commands it from beside; signals do
