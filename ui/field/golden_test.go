package field

import _ "evenpull/ui/internal/golden" // knows -update, as every package under ui does
