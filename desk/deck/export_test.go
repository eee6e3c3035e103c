package deck

import "dogshore/jackstay"

type lineResult = jackstay.LineResult
