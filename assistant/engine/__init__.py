"""The sums behind the answers: pure functions over exact weights, fat and money, free of words for people."""
