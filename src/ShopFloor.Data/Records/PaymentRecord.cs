namespace ShopFloor.Data.Records;

/// <summary>Money that came in, or went back when negative.</summary>
public sealed class PaymentRecord
{
    private PaymentRecord() { }

    /// <summary>A payment.</summary>
    public PaymentRecord(
        Guid id,
        Guid? document,
        Domain.OrderId? order,
        decimal amount,
        string currency,
        DateOnly day,
        string means,
        string note,
        string by
    )
    {
        (Id, Document, Order, Amount, Currency, Day, Means, Note, By) = (id, document, order, amount, currency, day, means, note, by);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>The document it settles; null: a payment on account.</summary>
    public Guid? Document { get; private set; }

    /// <summary>The order it is for.</summary>
    public Domain.OrderId? Order { get; private set; }

    /// <summary>Amount.</summary>
    public decimal Amount { get; private set; }

    /// <summary>ISO 4217.</summary>
    public string Currency { get; private set; } = "";

    /// <summary>When, shop-local.</summary>
    public DateOnly Day { get; private set; }

    /// <summary><c>cash</c>, <c>transfer</c>, <c>card</c>.</summary>
    public string Means { get; private set; } = "";

    /// <summary>Bank's text or a word of ours.</summary>
    public string Note { get; private set; } = "";

    /// <summary>Takes its words out, which may name the payer; amount, day and means stay for the books.</summary>
    public void Forget() => Note = "";

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";
}
