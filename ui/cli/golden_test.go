package cli

import _ "evenpull/ui/internal/golden" // the flag -update, for one run over all of ui
