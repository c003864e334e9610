package cli

import (
	"github.com/spf13/cobra"

	"evenpull/ui/gauge"
)

// gaugeFlag adds --gauge, which the environment may give as well.
func gaugeFlag(cmd *cobra.Command, units *[]string) {
	cmd.Flags().StringArrayVar(units, "gauge", nil, "`UNIT` that a gauge, wrench or calliper sends figures in that types them without one; once for each kind: N·m, mm (default: $EVENPULL_GAUGE)")
	completeFlags(cmd, map[string]offer{"gauge": unitNames})
}

// gaugeOf is the gauge that was told of, on the command line or else in the environment.
func (a *app) gaugeOf(units []string, told bool) (gauge.Gauge, error) {
	if !told {
		g, err := gauge.Read(a.setting("EVENPULL_GAUGE"))
		if err != nil {
			return g, usage("EVENPULL_GAUGE: %s", err)
		}
		return g, nil
	}
	g, err := gauge.Read(units...)
	if err != nil {
		return g, usage("--gauge: %s", err)
	}
	return g, nil
}
