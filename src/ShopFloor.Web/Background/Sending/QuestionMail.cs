using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>Mails about questions and proofs, written in the transaction of the command that asks or answers.</summary>
internal static class QuestionMail
{
    /// <summary>True when a question to the order's customer goes by mail: a server is set up, the customer gave an address and agreed.</summary>
    public static bool IsMailed(Order order, CurrentSettings settings) =>
        settings.Mail.TellQuestion && OrderMail.To(order, settings) is not null;

    /// <summary>The latest question, to the customer. The secret link is kept nowhere, so the mail points to the ticket.</summary>
    public static async Task ToCustomerAsync(CommandWork work, Order order, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        if (!IsMailed(order, settings) || OrderMail.To(order, settings) is not { } to)
            return;
        var question = order.Questions[^1];
        var words = MailLanguages.Of(settings.Mail, order.Language).Question;
        var filled = words.Filled(to.Name, Number(order), settings.Profile.Name, question.Text);
        var about = ($"question/{order.Id.Value:N}/{question.Number}", $"Question, order {order.Number}");
        work.Context.Outbox.Add(OrderMail.Of(order, new MailContent(to.Email, to.Name, filled.Subject, filled.Text), about, work.Now));
    }

    /// <summary>What a customer did on the order's page, to the workshop.</summary>
    /// <param name="work">The command.</param>
    /// <param name="order">The order.</param>
    /// <param name="what">What was done, like <c>the customer has answered</c>.</param>
    /// <param name="words">The customer's words.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static async Task ToWorkshopAsync(CommandWork work, Order order, string what, string words, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var to = settings.Mail.From.Length > 0 ? settings.Mail.From : settings.Profile.Email;
        if (!settings.Mail.TellWorkshop || settings.Mail.Host.Length == 0 || to.Length == 0)
            return;
        var subject = $"Order {order.Number}: {what}";
        var mail = new MailContent(to, settings.Profile.Name, subject, words.Length > 0 ? $"{subject}.\n\n{words}" : $"{subject}.");
        var about = ($"customer/{order.Id.Value:N}/{work.Command:N}", $"To the workshop, order {order.Number}");
        work.Context.Outbox.Add(OrderMail.Of(order, mail, about, work.Now));
    }

    private static string Number(Order order) => order.Number.ToString(CultureInfo.InvariantCulture);
}
