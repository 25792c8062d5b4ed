"""Formulas of result columns, by column key and by name on Code basis.

The sizing core is what they must agree with (batch.writing.live sees to it): a cell that a formula would get wrong is written as a figure.
"""

from __future__ import annotations

SAME_VOLTS = "ROUND(ABS([applied_v]/[volts_v]-1),6)<={same_volts_band}"
APPLIED = (
    '[supply_v]/IF(([connection]="wye to neutral")+([connection]="wye, no neutral")+([connection]="separate 3-heater wyes")>0,SQRT(3),'
    'IF([connection]="to neutral",2,1))'
)
MAXIMUM = "MAX([i_a],[i_b],[i_c])"
_SUM, _MEAN = "([i_a]+[i_b]+[i_c])", '([i_a]+[i_b]+[i_c])/IF([i_c]="",2,3)'  # a line that is not there is blank
NEXT_RATING = 'INDEX({{ratings}},COUNTIF({{ratings}},"<"&ROUND([{key}],6))+1)'
UNBALANCE = (
    f'([i_b]<>"")*IFERROR(100*MAX([maximum_a]-{_MEAN},{_MEAN}-[i_a],{_MEAN}-[i_b],IF([i_c]="",0,{_SUM}/3-[i_c]))/({_MEAN}),0)'
)
